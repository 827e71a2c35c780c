import type { Network } from './network'
import type { Step } from './two-stage'

/** Parts that share no sign, directly or through others, are independent and kept in blocks of their own. */
type Shape = {
  blocks: number[][]
  home: { block: number; bit: number }[]
  /** By sign: its block, and P(absent | state) for every state of the block. */
  signs: ({ block: number; absent: Float64Array } | null)[]
}

/** Largest number of parts that share signs: the masses of one block are two to this power. */
const LARGEST_BLOCK = 16

const shapes = new WeakMap<Network, Shape>()

/** Masses of all combinations of sound (bit 0) and developing (bit 1) parts, none of them failed. */
export class Joint {
  private readonly shape: Shape
  private readonly masses: Float64Array[]

  /** Every part new and sound. */
  constructor(network: Network) {
    this.shape = shapes.get(network) ?? shapeOf(network)
    shapes.set(network, this.shape)
    this.masses = this.shape.blocks.map((parts) => {
      const mass = new Float64Array(2 ** parts.length)
      mass[0] = 1
      return mass
    })
  }

  /** P(the part is developing), whatever the scale of the masses. */
  developing(index: number): number {
    const { block, bit } = this.shape.home[index]!
    const mass = this.masses[block]!
    let sound = 0
    let developing = 0
    for (let state = 0; state < mass.length; state++) {
      if (state & bit) developing += mass[state]!
      else sound += mass[state]!
    }
    return developing / (sound + developing)
  }

  move(index: number, { stay, onset, keep }: Step) {
    this.transform(index, stay, 0, onset, keep)
  }

  know(index: number, developing: boolean) {
    if (developing) this.transform(index, 0, 0, 0, 1)
    else this.transform(index, 1, 0, 0, 0)
  }

  /** A new life, which begins developing with chance `flawed`. */
  renew(index: number, flawed: number) {
    this.transform(index, 1 - flawed, 1 - flawed, flawed, flawed)
  }

  /** A sign that was looked for: its index in the network, and whether it was seen. */
  look(sign: number, seen: boolean) {
    const table = this.shape.signs[sign]
    if (!table) return
    const mass = this.masses[table.block]!
    for (let state = 0; state < mass.length; state++) {
      mass[state]! *= seen ? 1 - table.absent[state]! : table.absent[state]!
    }
  }

  normalise() {
    for (const mass of this.masses) {
      let total = 0
      for (let state = 0; state < mass.length; state++) total += mass[state]!
      if (!(total > 0)) throw new Error('the records contradict the world')
      for (let state = 0; state < mass.length; state++) mass[state]! /= total
    }
  }

  /** Every pair of masses that differ in this part alone goes through one two-by-two matrix. */
  private transform(
    index: number,
    soundFromSound: number,
    soundFromDeveloping: number,
    developingFromSound: number,
    developingFromDeveloping: number,
  ) {
    const { block, bit } = this.shape.home[index]!
    const mass = this.masses[block]!
    for (let state = 0; state < mass.length; state++) {
      if (state & bit) continue
      const sound = mass[state]!
      const developing = mass[state | bit]!
      mass[state] = soundFromSound * sound + soundFromDeveloping * developing
      mass[state | bit] = developingFromSound * sound + developingFromDeveloping * developing
    }
  }
}

function shapeOf({ parts, signs }: Network): Shape {
  const group = parts.map((_, index) => index)
  for (const { causes } of signs) {
    const joined = new Set(causes.map((c) => group[c.part]!))
    const first = Math.min(...joined)
    group.forEach((g, index) => {
      if (joined.has(g)) group[index] = first
    })
  }
  const blocks = [...new Set(group)].map((g) =>
    parts.flatMap((_, index) => (group[index] === g ? [index] : [])),
  )
  const largest = Math.max(...blocks.map((b) => b.length))
  if (largest > LARGEST_BLOCK) throw new Error(`${largest} parts share signs`)
  const home = parts.map((_, index) => {
    const block = blocks.findIndex((b) => b.includes(index))
    return { block, bit: 1 << blocks[block]!.indexOf(index) }
  })
  return { blocks, home, signs: signs.map(absentTable) }

  /** Noisy-OR: P(absent | states) = (1 − leak)·Π over developing causes of (1 − detect). */
  function absentTable({ sign, causes }: Network['signs'][number]) {
    if (!causes[0]) return null
    const { block } = home[causes[0].part]!
    const absent = new Float64Array(2 ** blocks[block]!.length).fill(1 - sign.leak)
    for (const { part, detect } of causes) {
      const { bit } = home[part]!
      absent.forEach((a, state) => {
        if (state & bit) absent[state] = a * (1 - detect)
      })
    }
    return { block, absent }
  }
}
