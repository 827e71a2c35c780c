import { type FaultMove, type FaultSearched, vehicleFault } from '@/lib/jobs/find-fault'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { noSuchTable, type Twin, type TwinAsked } from '../twins/answer-twin'
import { type Told, told } from '../twins/twin'
import { faultAsked } from './fault-asked'
import { moveWords, partWords } from './fault-words'

type Searched = { unit: string; asOf: Day; search: FaultSearched; currency: string | null }

const searching =
  (tell: (searched: Searched) => Told): Twin =>
  async ({ database, organisation, parameters, now }: TwinAsked) => {
    const { unit, limit } = faultAsked(parameters)
    if (unit === null) return noSuchTable('Say which vehicle: ?unit= and its number.')
    const { currency, fault } = await withOrganisation(database, organisation, async (scope) => ({
      currency: (await readTerms(scope)).currency,
      fault: await vehicleFault(scope, { unit, spendingLimit: limit }, now),
    }))
    if (!fault?.search) return noSuchTable('Nothing is searched for on such a vehicle.')
    return tell({ unit, asOf: fault.asOf, search: fault.search, currency })
  }

/** Looks and trial replacements on one vehicle, in the order that costs least. */
export const faultTwin = searching(({ unit, asOf, search: { moves, stop }, currency }) =>
  told<FaultMove & { step: number }>(
    `fault-finding-on-${unit}`,
    asOf,
    [
      ['step', 'Step', ({ step }) => step],
      ['what', 'What to do', moveWords],
      ['kind', 'Kind', ({ do: move }) => move.kind],
      ['cost', 'Its cost', ({ cost }) => cost, currency],
      ['chance', 'Chance, if nothing came out before', ({ chance }) => chance],
      ['cost_from_here', 'From here on', ({ expectedCostFromHere }) => expectedCostFromHere, currency],
      ['ask_before', 'Stop and ask before it', ({ step }) => stop?.after === step - 1],
      ['how', 'How', ({ do: move }) => (move.kind === 'look' ? move.how : null)],
      ['cautions', 'Cautions', ({ do: move }) => (move.kind === 'renew' ? move.cautions.join(' ') : null)],
    ],
    moves.map((move, i) => ({ ...move, step: i + 1 })),
  ),
)

/** What the fault may be, the likeliest first. */
export const causesTwin = searching(({ unit, asOf, search: { causes } }) =>
  told<FaultSearched['causes'][number]>(
    `causes-on-${unit}`,
    asOf,
    [
      ['cause', 'What it may be', partWords],
      ['position', 'Position', ({ position }) => position],
      ['chance', 'Chance that it is this one', ({ chance }) => chance],
      ['p_developing', 'Chance that it is going, whatever else is', ({ developing }) => developing],
    ],
    causes,
  ),
)
