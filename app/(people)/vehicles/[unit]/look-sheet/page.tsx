import { redirect } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { sheetAddress } from '../../../looks/looks-asked'

/** The look sheet of a vehicle stands with those of several. */
export default async function LookSheetOfVehicle({ params }: { params: Promise<{ unit: string }> }) {
  await requirePerson()
  redirect(sheetAddress([decodeURIComponent((await params).unit)]))
}
