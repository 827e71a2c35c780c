/** P(not failed) of a part at even moments of a stretch, at each node of its life, in as many cells as the node needs. */
import type { LifeCourse } from '@/lib/model/life-course'

/**
 * Where it matters little when the present part fails, for few new ones would fail as well, fewer cells are enough: by
 * the chance that both do. Ascending.
 */
const FEWER_CELLS: readonly (readonly [both: number, cells: number])[] = [
  [5e-4, 2],
  [1e-2, 4],
]

/** A stretch in effective clock units, and how finely it may have to be cut. */
export interface FineStretch {
  step: number
  /** Cells of the finest: even, and a multiple of four from four on. */
  most: number
  /** That a new part fails within the stretch. */
  chance: number
}

/** Of one part after the other, in the same room. */
export class SurvivalAhead {
  /** By node: in how many cells its curve is cut. */
  cells = new Int32Array(0)
  /** From `k · stride` on node k's chance now, after one cell, … after all of them; never rising. */
  curves = new Float64Array(0)
  stride = 1
  private here = new Float64Array(0)
  /** Those with the most cells first. */
  private ordered = new Int32Array(0)

  /** @param nodes those that are read; of others nothing is told */
  read(course: LifeCourse, nodes: Int32Array, stretch: FineStretch): void {
    const { step, most } = stretch
    this.makeRoom(course.weight.length, most)
    const { here, curves, cells, stride, ordered } = this
    course.aliveByNode(step, here, nodes, nodes.length)
    this.order(nodes, stretch)
    for (let i = 0; i < nodes.length; i++) {
      const k = nodes[i]!
      curves[k * stride] = 1
      curves[k * stride + cells[k]!] = here[k]!
    }
    for (let m = 1; m < most; m++) {
      const asked = this.countAt(m, most, nodes.length)
      if (asked > 0) course.aliveByNode((step * m) / most, here, ordered, asked)
      for (let i = 0; i < asked; i++) {
        const k = ordered[i]!
        curves[k * stride + (m * cells[k]!) / most] = here[k]!
      }
    }
    this.neverRise(nodes)
  }

  private makeRoom(count: number, most: number): void {
    this.stride = most + 1
    if (this.curves.length < count * this.stride) this.curves = new Float64Array(2 * count * this.stride)
    if (this.here.length >= count) return
    this.here = new Float64Array(count)
    this.cells = new Int32Array(count)
    this.ordered = new Int32Array(count)
  }

  /** Decides the nodes' numbers of cells by what is left of them at the end. */
  private order(nodes: Int32Array, { most, chance }: FineStretch): void {
    const { cells, here, ordered } = this
    for (let i = 0; i < nodes.length; i++) {
      const both = (1 - here[nodes[i]!]!) * chance
      const fewer = FEWER_CELLS.find(([below]) => both < below)?.[1] ?? most
      cells[nodes[i]!] = fewer < most && most % fewer === 0 ? fewer : most
    }
    let at = 0
    for (const each of [most, 4, 2]) {
      if (each === most && at > 0) continue
      for (let i = 0; i < nodes.length; i++) if (cells[nodes[i]!] === each) ordered[at++] = nodes[i]!
    }
  }

  /** How many of the nodes have a moment there; the moments of those with fewer cells are all among the finer ones. */
  private countAt(m: number, most: number, nodes: number): number {
    const { cells, ordered } = this
    let count = 0
    while (count < nodes && (m * cells[ordered[count]!]!) % most === 0) count++
    return count
  }

  private neverRise(nodes: Int32Array): void {
    const { curves, cells, stride } = this
    for (let j = 0; j < nodes.length; j++) {
      const from = nodes[j]! * stride
      for (let i = from + 1; i <= from + cells[nodes[j]!]!; i++)
        if (curves[i]! > curves[i - 1]!) curves[i] = curves[i - 1]!
    }
  }
}
