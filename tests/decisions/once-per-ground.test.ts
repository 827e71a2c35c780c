import { expect, test } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { OncePerGround } from '@/lib/decisions/inner/once-per-ground'

const groundAt = (slotDays: number) => ({ prices: { slotDays } }) as AdviceGround

test('what is reckoned of a ground is reckoned once, and never told of one that was spread from it', () => {
  const asked: number[] = []
  const days = new OncePerGround(({ prices }: AdviceGround) => {
    asked.push(prices.slotDays)
    return { days: prices.slotDays }
  })
  const hours = new OncePerGround(({ prices }: AdviceGround) => prices.slotDays * 24)
  const ground = groundAt(7)
  const first = days.of(ground)
  expect(first).toEqual({ days: 7 })
  expect(days.of(ground)).toBe(first)
  expect(hours.of(ground)).toBe(168)

  const later = { ...ground, ...groundAt(14) }
  expect(days.of(later)).toEqual({ days: 14 })
  expect(hours.of(later)).toBe(336)
  expect(days.of(ground)).toBe(first)
  expect(asked).toEqual([7, 14])
})
