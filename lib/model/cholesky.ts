/** Symmetric positive definite matrices, by rows: the lower triangular factor L with A = L·Lᵀ, and what it is for. */

/** Square and symmetric where it says so. */
export type Matrix = number[][]

/** L with A = L·Lᵀ; null where A is not positive definite. */
export function cholesky(a: Matrix): Matrix | null {
  const lower: Matrix = a.map(() => [])
  for (let i = 0; i < a.length; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = a[i]![j]!
      for (let k = 0; k < j; k++) rest -= lower[i]![k]! * lower[j]![k]!
      if (i === j && !(rest > 0 && Number.isFinite(rest))) return null
      lower[i]![j] = i === j ? Math.sqrt(rest) : rest / lower[j]![j]!
    }
    for (let j = i + 1; j < a.length; j++) lower[i]![j] = 0
  }
  return lower
}

/** x with L·Lᵀ·x = b. */
export function solveFactored(lower: Matrix, b: ArrayLike<number>): number[] {
  const x = Array.from(b)
  for (let i = 0; i < x.length; i++) {
    for (let k = 0; k < i; k++) x[i]! -= lower[i]![k]! * x[k]!
    x[i]! /= lower[i]![i]!
  }
  for (let i = x.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < x.length; k++) x[i]! -= lower[k]![i]! * x[k]!
    x[i]! /= lower[i]![i]!
  }
  return x
}

/** A⁻¹ of a positive definite A; null where it is not. */
export function invertPositive(a: Matrix): Matrix | null {
  const lower = cholesky(a)
  if (!lower) return null
  return a.map((_, i) =>
    solveFactored(
      lower,
      a.map((__, j) => (i === j ? 1 : 0)),
    ),
  )
}

export const multiply = (a: Matrix, x: ArrayLike<number>): number[] => a.map((row) => dot(row, x))

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}
