import type { Family, Library } from '@/lib/records/library'
import type { Formats } from '../../../ui/formats'

/** A family of somebody else's file in words: how much it says, and what there is of it here. */
export function offeredWords(family: Family, ours: Library | null, formats: Formats): string {
  const { key, name, weakPoints, signs } = family
  const says = `${name}: ${counted(weakPoints.length, 'weak point', formats)}, ${counted(signs.length, 'sign', formats)}`
  const same = ours?.families.find((each) => each.key === key)
  if (same)
    return `${says}. You have it (${key}${same.name === name ? '' : `, called ${same.name}`}): the two are merged.`
  const called = ours?.families.find((each) => each.name.toLowerCase() === name.toLowerCase())
  if (called)
    return `${says}. You have one of this name under the key ${called.key}: type that key to merge the two.`
  return `${says}. You have none of it: it is added as ${key}.`
}

const counted = (count: number, what: string, formats: Formats) =>
  `${formats.count(count)} ${what}${count === 1 ? '' : 's'}`
