import { type ChanceStep, isTelling, type StepTaken } from '@/lib/decisions/why-chance'
import type { WhyChance } from '@/lib/jobs/why-chance'
import type { Clock, WeakPoint } from '@/lib/records/library'
import type { RepairRow, VehicleRow } from '@/lib/records/rows'
import { aboutFrequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { CONFIDENCE, DUTIES } from '../../../ui/library-words'
import { ACTIONS } from '../../../ui/record-words'
import { clockAmount } from '../../families/amounts'

/** What the sentences speak of. */
export type Told = {
  why: WhyChance
  weakPoint: WeakPoint
  vehicle: VehicleRow
  /** The last work that renewed it, at this position. */
  renewal: RepairRow | undefined
  formats: Formats
}

const isMove = ({ before, chance }: StepTaken): boolean => before !== null && isTelling(before, chance)

/** What moves less than this share of the greatest move is not in the sentence. */
const SAID_SHARE = 0.1

/** The whole in a sentence: where it begins and ends, what raises and what lowers it most. */
export function whySentence(told: Told): string {
  const { steps } = told.why
  const [first, last] = [steps[0], steps.at(-1)]
  if (!first || !last) return ''
  const about = ({ chance }: StepTaken) => aboutFrequency(chance, told.formats.count)
  const moves = steps.filter(isMove).sort((a, b) => b.change - a.change)
  const greatest = Math.max(...moves.map(({ change }) => Math.abs(change)))
  const [up, down] = [moves[0], moves.at(-1)].map((move) =>
    move && Math.abs(move.change) >= SAID_SHARE * greatest ? move : null,
  )
  const said = [
    up && up.change > 0 ? `${MOVERS[up.step](told)} raises it most` : null,
    down && down.change < 0 ? `${MOVERS[down.step](told)} lowers it most` : null,
  ].filter((words) => words !== null)
  if (said.length === 0)
    return `The library says ${about(first)} of such a vehicle, and nothing on record moves that.`
  const here = about(first) === about(last) ? `again ${about(last)}` : about(last)
  return `The library says ${about(first)} of such a vehicle. Here it is ${here}: ${said.join(', and ')}.`
}

const USE: Record<Clock, string> = {
  distance: 'how far this vehicle has run',
  hours: 'how long its engine has run',
  time: 'how this vehicle was used',
}

const MOVERS: Record<ChanceStep, (told: Told) => string> = {
  library: () => '',
  learned: () => 'what your own parts have shown',
  ages: ({ why, weakPoint }) =>
    why.ages.engineChangedOn === null ? USE[weakPoint.clock] : 'the change of its engine',
  repairs: () => 'the work on record',
  signs: () => 'what was seen and looked for',
}

/** What a step adds, up to the chance that it leaves. */
export function stepWords(taken: StepTaken, told: Told): string {
  return STEP_WORDS[taken.step](told, taken)
}

const STEP_WORDS: Record<ChanceStep, (told: Told, taken: StepTaken) => string> = {
  library: libraryWords,
  learned: learnedWords,
  ages: agesWords,
  repairs: repairsWords,
  signs: signsWords,
}

function libraryWords({ why: { ages }, weakPoint, vehicle, formats }: Told): string {
  const { clock, confidence } = weakPoint
  const amount = runWords(ages.typical, weakPoint, formats)
  const run = clock === 'time' ? `is ${amount} old` : `has run the ${amount} that are usual for its age`
  const sure = `how sure: ${CONFIDENCE[confidence].word}`
  return `The author of the library (${sure}) says, of a vehicle on ${DUTIES[vehicle.duty]} that ${run}`
}

/** More digits would claim more than a usual rate leaves. */
const SAID_DIGITS = 3

const runWords = (ages: WhyChance['ages']['own'], { clock }: WeakPoint, formats: Formats): string =>
  clockAmount(Number(ages[clock].toPrecision(SAID_DIGITS)), clock, formats)

function learnedWords({ why: { learned }, formats }: Told, taken: StepTaken): string {
  if (learned === null) {
    return isMove(taken)
      ? 'What your own records have shown of the part that ages it'
      : 'Your own records have taught nothing of it yet'
  }
  const { failed, developing, sound, running } = learned
  const parts = failed + developing + sound + running
  const gone = [
    failed > 0 && `${formats.count(failed)} failed`,
    developing > 0 && `${formats.count(developing)} ${developing === 1 ? 'was' : 'were'} found going`,
  ].filter((words) => words !== false)
  const which = gone.length > 0 ? `of which ${gone.join(' and ')}` : 'none of which failed or was found going'
  return `What ${formats.count(parts)} such ${parts === 1 ? 'part' : 'parts'} of your own vehicles have shown, ${which}`
}

/** Within this ratio of each other two distances are as good as the same. */
const ALIKE = 1.05

function agesWords(told: Told, taken: StepTaken): string {
  const { own, typical } = told.why.ages
  const { clock } = told.weakPoint
  if (clock === 'time') {
    return `${isMove(taken) ? 'It ages by time, and by what lies above it' : 'It ages by time alone'}${pastWords(told)}`
  }
  const run = runWords(own, told.weakPoint, told.formats)
  if (own[clock] > typical[clock] * ALIKE) return `This vehicle has run more, ${run}${pastWords(told)}`
  if (own[clock] * ALIKE < typical[clock]) return `This vehicle has run less, ${run}${pastWords(told)}`
  return `This vehicle has run about as far, ${run}${pastWords(told)}`
}

/** What else is known of its past, to stand behind how far it has run. */
function pastWords({ why: { ages }, vehicle, formats }: Told): string {
  if (ages.engineChangedOn !== null)
    return `, and its engine was changed on ${formats.day(ages.engineChangedOn)}`
  return vehicle.history === 'none' ? ', and nothing is known of the time before its records' : ''
}

function repairsWords({ renewal, formats }: Told, taken: StepTaken): string {
  if (!renewal) {
    return isMove(taken)
      ? 'What was opened and done, at it and at parts that bear on it'
      : 'No renewal of it is on record'
  }
  const done =
    renewal.action === 'temporary' ? `It had a ${ACTIONS.temporary}` : `It was ${ACTIONS[renewal.action]}`
  const at = renewal.odometerKm === null ? '' : ` at ${formats.distance(renewal.odometerKm)}`
  return `${done} on ${formats.day(renewal.doneOn)}${at}`
}

function signsWords({ why: { seen } }: Told, taken: StepTaken): string {
  if (seen !== null) return seen
  if (!isMove(taken)) return 'No sign and no look on record moves it'
  return taken.change < 0
    ? 'Somebody looked, and what was found speaks against it'
    : 'What was seen at parts that bear on it'
}
