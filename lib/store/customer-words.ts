import crypto from 'node:crypto'
import { findInDatabase, type WordToErase } from './inner/words-to-find'
import type { Customer } from './read/customer'

/** The words that lead to a customer, and what is put in the place of each: one mark, which says nothing. */
export type CustomerWords = { mark: string; all: WordToErase[] }

/**
 * What is looked for: their name as it was written, how to reach them, plates and chassis numbers of vehicles that are
 * theirs or were, and what else somebody says that they go by.
 *
 * @param unitsAreNames a vehicle goes by its plate here, so that its number leads to them, too
 * @param more other words: a nickname, a telephone number without blanks
 */
export function wordsOf(
  customer: Customer,
  { unitsAreNames, more }: { unitsAreNames: boolean; more: readonly string[] },
): CustomerWords {
  const mark = `erased-${crypto.randomBytes(4).toString('hex')}`
  const { names, contacts, vehicles } = customer
  const numbers = vehicles.flatMap(({ plates, vins }) => [...plates, ...vins])
  const own = unitsAreNames ? vehicles.filter(({ until }) => until === null) : []
  const units = own.map(({ unit }, i) => ({ word: unit, put: `${mark}-${i + 1}` }))
  const others = [...names, ...contacts, ...numbers, ...more]
    .filter((word) => word.trim() !== '' && !units.some((unit) => unit.word === word))
    .map((word) => ({ word, put: mark }))
  // A longer one first: of "Ann Reed, Mill Lane" and "Ann Reed" the first would otherwise be found no more.
  return { mark, all: [...units, ...others].sort((a, b) => b.word.length - a.word.length) }
}

/** As the database looks for them, in their order. */
export const findsOf = ({ all }: CustomerWords): { finds: string[]; puts: string[] } => ({
  finds: all.map(({ word }) => findInDatabase(word)),
  puts: all.map(({ put }) => put),
})
