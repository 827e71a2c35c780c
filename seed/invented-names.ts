import type { Random } from './random'

/** Names that nobody bears: invented syllables. Addresses lie where nobody can be reached. */
const BEGINNINGS = ['Brum', 'Drub', 'Grosk', 'Osk', 'Plim', 'Quill', 'Snar', 'Thrip', 'Velm', 'Wexl', 'Yarb']
const ENDINGS = ['adder', 'andry', 'erwink', 'ibble', 'iggan', 'ock', 'osset', 'umple', 'wether']
const INITIALS = [...'ABDEGHJKLMNPRSTVW']
const TRADES = ['Bakery', 'Roofing', 'Florist', 'Kennels', 'Removals', 'Dairy', 'Upholstery', 'Plumbing']

const OWN_NAME_SHARE = 0.82

/**
 * A customer and how to reach them. The telephone numbers are of the block that the United Kingdom keeps free for
 * films (Ofcom: 07700 900000 to 900999), the mail addresses of a domain that is nobody's (RFC 2606).
 */
export function makeCustomer(random: Random): { customer: string; contact: string } {
  const surname = random.pick(BEGINNINGS) + random.pick(ENDINGS)
  const isPerson = random.chance(OWN_NAME_SHARE)
  const customer = isPerson ? `${random.pick(INITIALS)}. ${surname}` : `${surname} ${random.pick(TRADES)}`
  const contact = random.chance(0.85)
    ? `07700 900${String(random.whole(0, 999)).padStart(3, '0')}`
    : `${surname.toLowerCase()}@example.org`
  return { customer, contact }
}

const PLATE_LETTERS = [...'BCDFGHJKLMNPRSTVWXY']

/** A plate of no country's form: three letters and a number that is another for every vehicle. */
export const makePlate = (number: number, random: Random): string =>
  `${[0, 0, 0].map(() => random.pick(PLATE_LETTERS)).join('')}-${String(number).padStart(4, '0')}`
