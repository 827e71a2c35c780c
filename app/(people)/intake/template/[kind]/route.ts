import { notFound } from 'next/navigation'
import { ROW_KINDS } from '@/lib/intake/tables'
import { template } from '@/lib/intake/template'
import { requirePerson } from '../../../../require-person'

/** A file to begin with: its columns and two rows as examples. */
export async function GET(_: Request, { params }: { params: Promise<{ kind: string }> }): Promise<Response> {
  await requirePerson()
  const asked = (await params).kind
  const kind = ROW_KINDS.find((each) => asked === `${each}.csv`)
  if (!kind) notFound()
  const headers = {
    'Content-Type': 'text/csv; charset=utf-8',
    'Content-Disposition': `attachment; filename="${kind}.csv"`,
  }
  return new Response(template(kind), { headers })
}
