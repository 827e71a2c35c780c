import type { TableKind } from '../../tables'

/** Keys of rows, each its own in a kind: several lines of one invoice are not versions of one row. */
export class OwnRefs {
  private readonly times = new Map<string, number>()

  /** The key as it is written; the second record that has it gets `/2`. */
  own(kind: TableKind, ref: string): string {
    const place = `${kind} ${ref}`
    const time = (this.times.get(place) ?? 0) + 1
    this.times.set(place, time)
    return time === 1 ? ref : `${ref}/${time}`
  }
}
