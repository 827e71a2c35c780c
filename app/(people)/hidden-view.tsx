import type { ToldView } from './page-view'
import { parametersOf } from './view'

type Props = ToldView & {
  /** Parameters that the form itself asks for. */
  but?: string[]
  and?: [name: string, value: string][]
}

/** The rest of a view in a form that changes a part of it. */
export function HiddenView({ view, terms, but = [], and = [] }: Props) {
  const given = parametersOf(view, terms.distance).filter(([name]) => !but.includes(name))
  return [...given, ...and].map(([name, value]) => (
    <input key={`${name}=${value}`} type="hidden" name={name} value={value} />
  ))
}
