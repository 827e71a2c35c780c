import crypto from 'node:crypto'
import { libraryWith } from '@/lib/intake/family-draft'
import { lostPositions } from '@/lib/intake/family-positions'
import { statesMoney, writtenFamily } from '@/lib/intake/written-family'
import { type Family, type Library, type LibraryError, parseLibrary } from '@/lib/records/library'
import { type MergedFamily, mergeFamily, type NamedKey } from '@/lib/records/merge-family'
import { type OpenTaking, readOpenTaking } from '@/lib/store/read/family-takings'
import { readKeysInUse } from '@/lib/store/read/keys-in-use'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readNamedPositions } from '@/lib/store/read/named-positions'
import { readTakenBefore, type TakenBefore } from '@/lib/store/read/taken-before'
import { readTerms } from '@/lib/store/read/terms'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { otherCurrency } from '@/lib/store/write/change-library'

/** A file of which a family is being taken in, with what stands here now. */
export type TakingFromFile = {
  taking: OpenTaking
  theirs: Library
  ours: Library | null
  chosen: ChosenFamily | null
}

/** What the family that was chosen comes to here. */
export type ChosenFamily = {
  key: string
  theirs: Family
  /** What is in force here under the key; null where nothing is. */
  mine: Family | null
  /** When it was taken in from the same source before, where it was. */
  before: Pick<TakenBefore, 'takenAt' | 'libraryVersion'> | null
  /** Null where there is nothing here to merge it with. */
  merged: MergedFamily | null
  next: Family
  /** The library with it, and what is wrong with that. */
  content: string
  errors: LibraryError[]
  /** Tells what would be put in force from anything else. */
  seal: string
}

/** Reads a file that is being taken in, merged with what is in force; null where there is none of that id. */
export async function openTaking(scope: OrganisationScope, id: string): Promise<TakingFromFile | null> {
  const taking = await readOpenTaking(scope, id)
  if (!taking) return null
  const theirs = parseLibrary(taking.file)
  if (!theirs.ok) throw new Error(`A file that was found valid is not: ${theirs.errors[0]?.message}`)
  const inForce = await readLibraryInForce(scope)
  const read = inForce && parseLibrary(inForce.content)
  const ours = read?.ok ? read.library : null
  const family = theirs.library.families.find(({ key }) => key === taking.chosen)
  const chosen =
    family && taking.key !== null
      ? await chosenFamily(scope, { taking, key: taking.key, theirs: theirs.library, family, ours })
      : null
  return { taking, theirs: theirs.library, ours, chosen }
}

type Chosen = { taking: OpenTaking; key: string; theirs: Library; family: Family; ours: Library | null }

async function chosenFamily(scope: OrganisationScope, asked: Chosen): Promise<ChosenFamily> {
  const { taking, key, theirs, ours } = asked
  const family = { ...asked.family, key }
  const mine = ours?.families.find((each) => each.key === key) ?? null
  const { name, currency } = await readTerms(scope)
  const before = mine && (await readTakenBefore(scope, { key, source: taking.source }))
  const merged =
    mine &&
    mergeFamily({
      base: before && familyOf(before.file),
      mine,
      theirs: family,
      choices: taking.choices,
      inUse: (await readKeysInUse(scope)).filter((named) => named.family === key).flatMap(namedKey),
    })
  const next = merged?.family ?? family
  const inForce = await readLibraryInForce(scope)
  const content = libraryWith(inForce?.content ?? firstLibrary(name, theirs), name, writtenFamily(next))
  const wrong = [
    ...(statesMoney(family) ? [otherCurrency(theirs, currency)] : []),
    mine && (await lostBy(scope, mine, next)),
  ].filter((error) => error !== null)
  const parsed = parseLibrary(content)
  return {
    ...{ key, theirs: family, mine, before, merged, next, content },
    errors: [...wrong, ...(parsed.ok ? [] : parsed.errors)],
    seal: crypto.createHash('sha256').update(content).digest('base64url'),
  }
}

/** A family that was taken in; one that cannot be read any more is no base. */
function familyOf(file: string): Family | null {
  const parsed = parseLibrary(file)
  return (parsed.ok && parsed.library.families[0]) || null
}

/** Where there is no library yet, the first that says something says in which currency, and the walk round an engine. */
const firstLibrary = (name: string, { currency, zones }: Library) =>
  JSON.stringify({ format: 'gudgeon-library/1', name, ...(currency && { currency }), zones, families: [] })

const namedKey = ({
  kind,
  of,
  key,
}: {
  kind: NamedKey['kind'] | 'family'
  of: string | null
  key: string
}) => (kind === 'family' ? [] : [{ kind, of, key }])

async function lostBy(scope: OrganisationScope, mine: Family, next: Family): Promise<LibraryError | null> {
  const sentence = lostPositions(mine, next, await readNamedPositions(scope, next.key))
  return sentence === null ? null : { place: `families[${next.key}]`, message: sentence }
}
