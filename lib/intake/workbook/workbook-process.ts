/** A process that reads workbooks for another one, which goes on should a workbook ask for too much. */
import type { Applied, ApplyGround } from './applied'
import { applyMapping } from './apply'
import type { Mapping } from './mapping'
import type { WorkbookProfile } from './profile'
import { type HeaderRows, profileWorkbook } from './profile-workbook'
import { readWorkbook } from './read-workbook'

/** A workbook as it came, and what of it is asked for. */
export type Told = { name: string; bytes: Uint8Array } & (
  | { ask: 'profile'; headerRows: HeaderRows }
  | { ask: 'apply'; profile: WorkbookProfile; mapping: Mapping; ground: ApplyGround }
)

/** How far it is, then what was asked for, or in one sentence why there is none. */
export type Answered =
  | { answer: 'share'; done: number }
  | { answer: 'profile'; profile: WorkbookProfile }
  | { answer: 'applied'; applied: Applied }
  | { answer: 'refused'; reason: string }

/** Most of the time goes into reading. */
const READ = 0.8

async function answerTo(told: Told): Promise<Answered> {
  const read = await readWorkbook(told.name, told.bytes, (done) => tellShare(READ * done))
  if (!read.ok) return { answer: 'refused', reason: read.reason }
  const { workbook } = read
  tellShare(READ)
  if (told.ask === 'apply') return { answer: 'applied', applied: applyMapping({ ...told, workbook }) }
  const sheets = workbook.sheets.length
  const profile = profileWorkbook(workbook, told.headerRows, (done) =>
    tellShare(READ + ((1 - READ) * done) / sheets),
  )
  return { answer: 'profile', profile }
}

const answer = (answered: Answered) => process.send?.(answered)
const tellShare = (done: number) => answer({ answer: 'share', done })

process.on('message', async (told: Told) => {
  answer(await answerTo(told))
})
// Whoever asked is gone.
process.on('disconnect', () => process.exit())
