import { notFound } from 'next/navigation'
import { z } from 'zod'
import { readPhotograph } from '@/lib/store/read/photographs'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'

/** A photograph of a vehicle. What came in as a JPEG goes out as one and as nothing else; next.config.ts says the rest. */
export async function GET(_: Request, { params }: { params: Promise<{ id: string }> }): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const id = z.uuid().safeParse((await params).id)
  if (!id.success) notFound()
  const bytes = await withOrganisation(database, organisation, (scope) => readPhotograph(scope, id.data))
  if (bytes === null) notFound()
  return new Response(bytes, {
    headers: {
      'Content-Type': 'image/jpeg',
      'Content-Disposition': 'inline; filename="photograph.jpg"',
      'Cross-Origin-Resource-Policy': 'same-origin',
      'Cache-Control': 'private, max-age=300', // one that is withdrawn is out of sight soon
    },
  })
}
