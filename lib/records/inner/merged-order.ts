/**
 * One order of what two lists hold: that of whichever changed it, `mine` where both did; what only the other holds
 * comes after what it comes after there. Nobody holds anything twice.
 */
export function mergedOrder(
  base: readonly string[] | null,
  mine: readonly string[],
  theirs: readonly string[],
): string[] {
  const mineMoved = base === null || !sameOrder(base, mine)
  const [order, other] = mineMoved ? [[...mine], theirs] : [[...theirs], mine]
  const placed = new Set(order)
  other.forEach((id, i) => {
    if (placed.has(id)) return
    order.splice(order.indexOf(other[i - 1] ?? '') + 1, 0, id)
    placed.add(id)
  })
  return order
}

/** Whether what is in both comes in the same order. */
function sameOrder(a: readonly string[], b: readonly string[]): boolean {
  const [inA, inB] = [new Set(a), new Set(b)]
  const [left, right] = [a.filter((id) => inB.has(id)), b.filter((id) => inA.has(id))]
  return left.every((id, i) => id === right[i])
}
