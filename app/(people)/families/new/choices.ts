import { CLOCKS, CONFIDENCE, SEVERITIES, SIGN_KINDS } from '../../../ui/library-words'

/** What the forms offer to choose from; the values are those of a library file. */
export type Option = { value: string; label: string }

const optionsOf = (words: Record<string, string>): Option[] =>
  Object.entries(words).map(([value, label]) => ({ value, label }))

export const CLOCK_OPTIONS = optionsOf(CLOCKS)
export const SEVERITY_OPTIONS = optionsOf(SEVERITIES)
export const KIND_OPTIONS = optionsOf(SIGN_KINDS)
export const CONFIDENCE_OPTIONS: Option[] = Object.entries(CONFIDENCE).map(([value, { word, meaning }]) => ({
  value,
  label: `${word}: ${meaning}`,
}))

export const YES_NO: Option[] = [
  { value: 'no', label: 'no' },
  { value: 'yes', label: 'yes' },
]

/** How often a sign is seen while a part goes. */
export const SHOWS: Option[] = [
  { value: '0', label: 'never' },
  { value: '0.1', label: 'rarely, 1 in 10' },
  { value: '0.3', label: 'sometimes, 3 in 10' },
  { value: '0.6', label: 'mostly, 6 in 10' },
  { value: '0.9', label: 'nearly always, 9 in 10' },
]

/** How often a look finds a sign that nothing has caused. */
export const LEAKS: Option[] = [
  { value: '0.001', label: 'hardly ever, 1 look in 1,000' },
  { value: '0.005', label: 'rarely, 1 look in 200' },
  { value: '0.03', label: 'sometimes, 1 look in 30' },
  { value: '0.1', label: 'often, 1 look in 10' },
]

export const STRENGTHS: Option[] = [
  { value: '1.5', label: 'half as fast again' },
  { value: '2', label: 'twice as fast' },
  { value: '3', label: 'three times as fast' },
  { value: '5', label: 'five times as fast' },
  { value: '10', label: 'ten times as fast' },
]

/** How long a part lasts in a version of the engine. */
export const LASTS_IN: Option[] = [
  { value: 'absent', label: 'not at all: this version does not have it' },
  { value: '0.5', label: 'half as long' },
  { value: '0.8', label: 'a fifth less long' },
  { value: '1', label: 'as long as in the others' },
  { value: '1.2', label: 'a fifth longer' },
  { value: '1.5', label: 'half as long again' },
  { value: '2', label: 'twice as long' },
]

/** How fast a part ages on a kind of use, against mixed use. */
export const AGEING: Option[] = [
  { value: '0.7', label: 'a third slower' },
  { value: '0.9', label: 'a little slower' },
  { value: '1', label: 'as fast' },
  { value: '1.2', label: 'a little faster' },
  { value: '1.5', label: 'half as fast again' },
  { value: '2', label: 'twice as fast' },
]

const MOST_POSITIONS = 16

/** How many of a part an engine can have. */
export function positionOptions(cylinders: number): Option[] {
  return Array.from({ length: Math.max(MOST_POSITIONS, cylinders) }, (_, i) => ({
    value: String(i + 1),
    label: i + 1 === cylinders && cylinders > 1 ? `${i + 1}, one a cylinder` : String(i + 1),
  }))
}

/** The options with a value among them that a file states and nobody offers. */
export function withValue(options: Option[], value: number | undefined): Option[] {
  if (value === undefined || options.some((option) => Number(option.value) === value)) return options
  const all = [...options, { value: String(value), label: String(value) }]
  return all.sort((a, b) => (Number(a.value) || 0) - (Number(b.value) || 0))
}
