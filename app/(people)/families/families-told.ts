import { knownFit } from '@/lib/jobs/known-fit'
import type { Clock, Family, WeakPoint } from '@/lib/records/library'
import { learnedSigns } from '@/lib/scoring/learned-signs'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { type KnownLibrary, readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import { readVehiclesByFamily } from '@/lib/store/read/vehicles-by-family'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'
import { CONFIDENCE, SEVERITIES } from '../../ui/library-words'
import { noSuchTable, type Twin, type TwinAsked } from '../twins/answer-twin'
import { type Told, told } from '../twins/twin'
import { GRADES, gradeCount } from './family-table'

type Ground = { known: KnownLibrary; terms: Terms; today: Day; asked: TwinAsked }

const ofLibrary =
  (tell: (scope: OrganisationScope, ground: Ground) => Promise<Told | Response>): Twin =>
  (asked) =>
    withOrganisation(asked.database, asked.organisation, async (scope) => {
      const [known, terms] = [await readKnownLibrary(scope), await readTerms(scope)]
      if (!known) return noSuchTable('There is no library yet.')
      return tell(scope, { known, terms, today: dayIn(terms.timeZone, asked.now), asked })
    })

const ofFamily = (tell: (scope: OrganisationScope, ground: Ground & { family: Family }) => Promise<Told>) =>
  ofLibrary(async (scope, ground) => {
    const family = ground.known.library.families.find(({ key }) => key === ground.asked.params.key)
    return family ? tell(scope, { ...ground, family }) : noSuchTable('There is no such engine.')
  })

/** The families that the library knows. */
export const familiesTwin = ofLibrary(async (scope, { known, today }) => {
  const vehicles = await readVehiclesByFamily(scope)
  return told<Family>(
    'families',
    today,
    [
      ['key', 'Key', ({ key }) => key],
      ['engine', 'Engine', ({ name }) => name],
      ['vehicles', 'Vehicles', ({ key }) => vehicles.get(key) ?? 0],
      ['weak_points', 'Weak points', ({ weakPoints }) => weakPoints.length],
      ['signs', 'Signs', ({ signs }) => signs.length],
      ...GRADES.map(
        (grade) =>
          [grade, `Lives: ${CONFIDENCE[grade].word}`, (family: Family) => gradeCount(family, grade)] as const,
      ),
    ],
    known.library.families,
  )
})

const CLOCK_UNITS: Record<Clock, string> = { distance: 'km', hours: 'hours', time: 'days' }

/** The weak points of one engine, as the library states them. */
export const weakPointsTwin = ofFamily(async (_, { family, terms: { currency }, today }) =>
  told<WeakPoint>(
    `weak-points-of-${family.key}`,
    today,
    [
      ['key', 'Key', ({ key }) => key],
      ['component', 'Weak point', ({ component }) => component],
      ['failure_mode', 'How it fails', ({ failureMode }) => failureMode || null],
      ['positions', 'Positions', ({ positions }) => positions],
      ['clock_unit', 'Lives counted in', ({ clock }) => CLOCK_UNITS[clock]],
      ['onset_p10', 'One in ten has begun to go by', ({ onset }) => onset.p10],
      ['onset_p50', 'Half have begun to go by', ({ onset }) => onset.p50],
      ['warning', 'From first sign to breakdown, median', ({ warning }) => warning],
      ['confidence', 'How sure', ({ confidence }) => CONFIDENCE[confidence].word],
      ['severity', 'Once it has failed', ({ severity }) => SEVERITIES[severity]],
      ['harm', 'Can harm people', ({ harm }) => harm],
      ['renew_every', 'Stated interval', ({ renewEvery }) => renewEvery],
      ['parts_cost', 'Parts', ({ cost }) => cost.parts, currency],
      ['hours', 'Labour', ({ cost }) => cost.hours, 'hours'],
      ['failure_extra', 'A failure costs more', ({ cost }) => cost.failureExtra, currency],
      ['days_off', 'A failure takes off the road', ({ cost }) => cost.daysOff, 'days'],
      ['part', 'Part', ({ part }) => part],
      ['cautions', 'Cautions', ({ cautions }) => cautions.join(' ') || null],
    ],
    family.weakPoints,
  ),
)

type Rate = { sign: string; label: string; weakPoint: string | null; stated: number }

/** How often each sign of one engine is seen: for each of its causes, and without any; as stated and as learned. */
export const signsTwin = ofFamily(async (scope, { known, family, today }) => {
  const fit = knownFit(await readFitInForce(scope), known.library)?.families.get(family.key)
  const rates = learnedSigns(family, fit?.signs ?? new Map())
  const nameOf = (key: string | null) =>
    family.weakPoints.find((point) => point.key === key)?.component ?? null
  const rows = family.signs.flatMap(({ key: sign, label, causes, leak }): Rate[] => [
    ...causes.map(({ weakPoint, detect }) => ({ sign, label, weakPoint, stated: detect })),
    { sign, label, weakPoint: null, stated: leak },
  ])
  return told<Rate>(
    `signs-of-${family.key}`,
    today,
    [
      ['sign', 'Sign', ({ label }) => label],
      ['key', 'Key', ({ sign }) => sign],
      ['weak_point', 'While this goes (blank: without cause)', ({ weakPoint }) => nameOf(weakPoint)],
      ['stated', 'Seen in a look, as stated', ({ stated }) => stated],
      [
        'learned',
        'Seen in a look, as learned',
        ({ sign, weakPoint }) =>
          rates.find((rate) => rate.sign === sign && rate.weakPoint === weakPoint)?.learned ?? null,
      ],
    ],
    rows,
  )
})
