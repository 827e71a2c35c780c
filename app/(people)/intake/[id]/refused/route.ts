import { notFound } from 'next/navigation'
import { z } from 'zod'
import { rejectedCsv } from '@/lib/intake/write-rejected'
import { readIntake } from '@/lib/store/read/intake'
import { readRejectedRows } from '@/lib/store/read/rejected-rows'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'

/** The rejected rows of one file, to be mended elsewhere. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ id: string }> },
): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const id = z.uuid().safeParse((await params).id)
  const file = new URL(request.url).searchParams.get('file')
  if (!id.success || file === null) notFound()
  const { intake, rows } = await withOrganisation(database, organisation, async (scope) => ({
    intake: await readIntake(scope, id.data),
    rows: await readRejectedRows(scope, id.data),
  }))
  if (!intake) notFound()
  const name = encodeURIComponent(`rejected ${file}`)
  const headers = {
    'Content-Type': 'text/csv; charset=utf-8',
    'Content-Disposition': `attachment; filename="rejected.csv"; filename*=UTF-8''${name}`,
  }
  return new Response(rejectedCsv(rows.filter((row) => row.file === file)), { headers })
}
