import { UNTOUCHED } from '@/app/ui/form-state'

/** What an action can be called with. */
type Action = (...given: unknown[]) => Promise<unknown>

/** The names of a function's parameters, as its text has them. */
const parametersOf = (action: Action): string[] =>
  (/^async function \w+\(([^)]*)\)/.exec(String(action))?.[1] ?? '')
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '')

/** What the parameters of actions are given, by their names. An action with another one needs a value here. */
const valuesOf = (id: string): Record<string, unknown> => ({
  ...{ id, unit: 'B-10', other: 'B-2', key: 'plover-16', weakPoint: 'pump', customer: 'Ann', version: 1 },
  ...{ weekOn: 20_521, bay: 0, what: 'tyres', read: '', seal: '', asked: 'engine=plover-16&odometer=90000' },
  name: 'Bo',
  before: UNTOUCHED,
  coming: { hereNow: false, hoursFree: null },
  said: { days: 365, km: null, excluded: [], claimLimit: null },
  found: { search: '', site: '', without: false, units: ['B-10'], size: 'small' },
  link: { from: 'pump', to: 'injector' },
})

/** Parameters that mean something else in one action than in the others. */
const OWN_VALUES: Record<string, Record<string, unknown>> = {
  withdraw: { kind: 'work' },
  enterRecord: { kind: 'reading' },
  correctEntry: { kind: 'readings' },
  sayOf: { act: 'pinned' },
  answerProposal: { act: 'accepted' },
}

/** What the forms of most actions say, whatever of it they read. */
const fieldsOf = (id: string): Record<string, string> => ({
  ...{ id, name: 'another name', role: 'reader', kind: 'take-back', key: 'pump', sheet: 'a', field: 'a' },
  ...{ whom: 'the driver', because: 'it was repaired', reason: 'it was nothing', organisation: id },
  ...{
    person: id,
    sure: 'remove',
    odometer: '90000 km',
    on: 'today',
    unit: 'km',
    size: 'small',
    back: '/',
    address: '/',
  },
})

const OWN_FIELDS: Record<string, (id: string) => Record<string, string>> = {
  changeRecordState: (id) => ({ pressed: `withdraw readings ${id}` }),
  changePhotographState: (id) => ({ pressed: `withdraw ${id}` }),
  changeWebhook: () => ({ address: 'https://example.org', on: 'yes' }),
  sayKind: () => ({ kind: 'readings' }),
}

/**
 * Arguments for any action.
 *
 * @param id what it gets wherever it takes an id
 * @throws for a parameter of which nothing is known here
 */
export function argumentsFor(name: string, action: Action, id: string): unknown[] {
  const values = { ...valuesOf(id), ...OWN_VALUES[name] }
  const fields = { ...fieldsOf(id), ...OWN_FIELDS[name]?.(id) }
  return parametersOf(action).map((parameter) => {
    if (/^_?data$/.test(parameter)) return formOf(fields)
    if (!(parameter in values)) throw new Error(`${name}: say in any-arguments.ts what ${parameter} may be`)
    return values[parameter]
  })
}

function formOf(fields: Record<string, string>): FormData {
  const form = new FormData()
  for (const [name, value] of Object.entries(fields)) form.append(name, value)
  return form
}
