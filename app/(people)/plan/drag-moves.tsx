'use client'

import { startTransition, useEffect } from 'react'
import { moveHere } from './actions'
import { costsOfMoves, type MoveCost } from './costs-of-moves'

const SLOTS = 'td[data-slot]'
const STEPS: Record<string, readonly [number, number]> = {
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
}

/** Beside the grid of the plan: visits are dragged, each place saying what that would do; arrow keys go between places. */
export function DragMoves() {
  useEffect(() => {
    const grid = document.getElementById('weeks')
    if (!grid) return
    const dragging = new Dragging(grid)
    const listeners = {
      dragstart: (event: DragEvent) => dragging.begin(event),
      dragover: (event: DragEvent) => dragging.over(event),
      drop: (event: DragEvent) => dragging.drop(event),
      dragend: () => dragging.end(),
      keydown: (event: KeyboardEvent) => step(grid, event),
    }
    for (const [name, listener] of Object.entries(listeners))
      grid.addEventListener(name, listener as EventListener)
    return () => {
      dragging.end()
      for (const [name, listener] of Object.entries(listeners))
        grid.removeEventListener(name, listener as EventListener)
    }
  })
  return null
}

/** One visit under the mouse. What each place says is shown by the style sheet, from an attribute. */
class Dragging {
  private visit: string | null = null
  private costs = new Map<string, MoveCost>()

  constructor(private readonly grid: HTMLElement) {}

  async begin({ target, dataTransfer }: DragEvent): Promise<void> {
    const dragged = target instanceof Element ? target.closest<HTMLElement>('[data-visit]') : null
    const visit = dragged?.dataset.visit
    if (!visit) return
    dataTransfer?.setData('text/plain', visit)
    this.visit = visit
    const costs = await costsOfMoves(visit)
    // It may have been dropped by now.
    if (this.visit !== visit) return
    this.costs = new Map(costs.map((cost) => [`${cost.weekOn} ${cost.bay}`, cost]))
    for (const slot of this.slots()) {
      const cost = this.costs.get(slot.dataset.slot ?? '')
      if (cost) slot.dataset.move = cost.words
      if (cost && !cost.may) slot.dataset.blocked = 'yes'
    }
  }

  over(event: DragEvent): void {
    if (this.costAt(event)?.may) event.preventDefault()
  }

  drop(event: DragEvent): void {
    const cost = this.costAt(event)
    const { visit } = this
    if (!cost?.may || visit === null) return
    event.preventDefault()
    this.end()
    startTransition(() => moveHere(visit, cost.weekOn, cost.bay))
  }

  end(): void {
    this.visit = null
    this.costs.clear()
    for (const slot of this.slots()) {
      delete slot.dataset.move
      delete slot.dataset.blocked
    }
  }

  private costAt({ target }: DragEvent): MoveCost | undefined {
    const slot = target instanceof Element ? target.closest<HTMLElement>(SLOTS) : null
    return this.costs.get(slot?.dataset.slot ?? '')
  }

  private slots(): NodeListOf<HTMLElement> {
    return this.grid.querySelectorAll<HTMLElement>(SLOTS)
  }
}

/** From one place to the next that can be pressed, in the direction of the key. */
function step(grid: HTMLElement, event: KeyboardEvent): void {
  const by = STEPS[event.key]
  const slot = event.target instanceof Element ? event.target.closest<HTMLTableCellElement>(SLOTS) : null
  if (!by || !slot) return
  event.preventDefault()
  const rows = [...grid.querySelectorAll<HTMLTableRowElement>('tbody tr')]
  const cells = rows.map((row) => [...row.querySelectorAll<HTMLTableCellElement>(SLOTS)])
  let row = cells.findIndex((ofRow) => ofRow.includes(slot))
  let column = cells[row]?.indexOf(slot) ?? -1
  for (;;) {
    row += by[0]
    column += by[1]
    const next = cells[row]?.[column]
    if (!next) return
    const button = next.querySelector<HTMLElement>('form button') ?? next.querySelector<HTMLElement>('a')
    if (!button) continue
    button.focus()
    return
  }
}
