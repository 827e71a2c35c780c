/** A grid over the logarithm of age, and where ages lie on it: found once, used at every parameter value. */
import { SIX, THREE } from '../gauss-legendre'

/** Cells of this width in ln age hold the logarithms that are tabulated to about 1e-8. */
const STEP = 0.0125
/** Below e^−8 of the greatest age a power of the age says all. */
const REACH = 8

export type AgeGrid = {
  /** ln of the lowest age, and the number of cells. */
  first: number
  cells: number
  nodes: GridPoints
  /** Gauss–Legendre points of every cell, cell after cell. */
  three: GridPoints
  six: GridPoints
}

/** Ages and their logarithms. */
export type GridPoints = { logAge: Float64Array; age: Float64Array }

export const GRID_STEP = STEP

/** Spans the ages from the lowest positive one to the greatest. */
export function ageGrid(lowest: number, greatest: number): AgeGrid {
  const last = Math.log(greatest)
  const cells = Math.max(1, Math.ceil(Math.min(last - Math.log(lowest), REACH) / STEP))
  const first = last - cells * STEP
  const at = (points: readonly number[]) =>
    gridPoints(
      Float64Array.from({ length: cells * points.length }, (_, i) => {
        const cell = Math.floor(i / points.length)
        return first + (cell + points[i % points.length]!) * STEP
      }),
    )
  const nodes = gridPoints(Float64Array.from({ length: cells + 1 }, (_, j) => first + j * STEP))
  return { first, cells, nodes, three: at(THREE.x), six: at(SIX.x) }
}

const gridPoints = (logAge: Float64Array): GridPoints => ({ logAge, age: logAge.map(Math.exp) })

/**
 * Writes the weights that read a tabulated function at an age: of value and slope at the cell's left node, then at
 * its right one (cubic Hermite; below the grid the line with the first slope).
 *
 * @returns the cell
 */
export function placeOnGrid(grid: AgeGrid, logAge: number, weights: Float64Array, at: number): number {
  const position = (logAge - grid.first) / STEP
  const cell = Math.min(Math.max(Math.floor(position), 0), grid.cells - 1)
  const t = position - cell
  const below = t < 0
  weights[at] = below ? 1 : (1 + 2 * t) * (1 - t) ** 2
  weights[at + 1] = below ? t : t * (1 - t) ** 2
  weights[at + 2] = below ? 0 : t * t * (3 - 2 * t)
  weights[at + 3] = below ? 0 : t * t * (t - 1)
  return cell
}
