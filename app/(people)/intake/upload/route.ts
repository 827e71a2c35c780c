import { setTimeout as sleep } from 'node:timers/promises'
import { isWorkbook, kindOfFile } from '@/lib/intake/kind-of-file'
import type { StagedFile } from '@/lib/intake/read-staged'
import { LONGEST_NAME } from '@/lib/records/text-limits'
import { readJobState } from '@/lib/store/read/job-state'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { stageWorkbook } from '@/lib/store/write/stage-workbook'
import { readLimited } from '../../../limited-body'
import { formIn, isOurForm } from '../../../our-form'
import { requirePerson } from '../../../require-person'

/** Small files are read by then, and the next page shows what they do at once. */
const MOST_MS_WAITED = 2500

/** Takes files from the form of the page, with script or without, and leads to what they would do. */
export async function POST(request: Request): Promise<Response> {
  if (!isOurForm(request)) return new Response(null, { status: 403 })
  const { database, organisation, person } = await requirePerson('bring-in-records')
  const body = await readLimited(request).catch(() => 'cut-off' as const)
  if (body === null) return to('/intake?problem=too-large')
  const form = body === 'cut-off' ? null : await formIn(body, request.headers)
  if (form === null) return to('/intake?problem=cut-off')
  const given = await stagedFiles(form)
  if (given.length === 0) return to('/intake?problem=nothing')
  const bySheets = ({ name, bytes }: StagedFile) => isWorkbook(name, bytes)
  const [workbooks, files] = [given.filter(bySheets), given.filter((file) => !bySheets(file))]

  const bringing = { by: person.id, now: new Date() }
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const [first] = await write(async (scope) => {
    const ids: string[] = []
    for (const workbook of workbooks) ids.push(await stageWorkbook(scope, workbook, bringing))
    return ids
  })
  const intake = files.length > 0 ? await write((scope) => stageIntake(scope, files, bringing)) : null
  const looked = first ?? intake
  const isRead = async () =>
    (await withOrganisation(database, organisation, (scope) => readJobState(scope, `${looked}`))) !==
    'running'
  for (const began = performance.now(); performance.now() - began < MOST_MS_WAITED; await sleep(100))
    if (await isRead()) break
  return to(first === undefined ? `/intake/${intake}` : `/intake/workbook/${first}`)
}

async function stagedFiles(form: FormData): Promise<StagedFile[]> {
  const files: StagedFile[] = []
  for (const file of form.getAll('files')) {
    if (typeof file === 'string' || file.name === '') continue
    const bytes = new Uint8Array(await file.arrayBuffer())
    // The end of a name says what kind of file it is.
    const name = file.name.slice(-LONGEST_NAME)
    files.push({ name, kind: kindOfFile(name, bytes), bytes })
  }
  return files
}

/** A relative address: the server may be known under another name than its own. */
const to = (address: string) => new Response(null, { status: 303, headers: { Location: address } })
