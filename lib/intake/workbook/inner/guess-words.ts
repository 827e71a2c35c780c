/** What words of a column seem to stand for: one of a list of ours, or a key of the library. */
import type { Family, Sign } from '@/lib/records/library'
import { LAMP_ON } from '@/lib/records/rows'
import { type Meaning, wordKey } from '../mapping'
import { isNoCodes, NO_CODES } from '../read-cells'
import { engineOfWords } from './engine-of-words'
import { actionIn, foundIn, partWord, wordsOf } from './trade-words'

type List = readonly (readonly [word: string, form: RegExp])[]

/** Words of ours, and what people write for them (common practice, no source). */
const LISTS: Partial<Record<Meaning, List>> = {
  status: [
    ['sold', /\b(?:sold|verkauft|vendu|vendido)/],
    [
      'retired',
      /\b(?:retired|scrap\w*|dispos\w*|off the road|stillgelegt|abgemeldet|reforme|baja|written off)/,
    ],
    ['stock', /\b(?:stock|for sale|forecourt|lager|bestand|in prep|available)/],
    ['active', /\b(?:active|in use|live|on the road|running|aktiv|im einsatz|en service|activo)/],
  ],
  duty: [
    ['short', /\b(?:short|city|urban|town|stadt\w*|kurz\w*|ville|ciudad|delivery|stop start)/],
    ['long', /\b(?:long|motorway|highway|haul|autobahn|fern\w*|langstrecke|autoroute|autopista)/],
    ['mixed', /\b(?:mix\w*|regional|gemischt|mixte|mixto|normal)/],
  ],
  history: [
    ['none', /\b(?:none|unknown|no|part|partial|keine|unbekannt|aucun|inconnu)\b/],
    ['full', /\b(?:full|complete|known|yes|fsh|voll\w*|lückenlos|complet|completo)\b/],
  ],
  because: [
    ['campaign', /\b(?:campaign|recall|ruckruf|rappel)/],
    ['together', /\b(?:together|same time|while|in one go|zugleich|en meme temps)/],
    [
      'schedule',
      /\b(?:schedul\w*|service|interval|planned|pm|prevent\w*|inspektion|wartung|entretien|revision)/,
    ],
    ['failure', /\b(?:fail\w*|break ?down|broke\w*|recovery|towed|panne|ausfall|averia|defekt)/],
    ['sign', /\b(?:sign|symptom|warning|light|lamp|noise|smoke|complaint|leak|code|bruit|geräusch)/],
  ],
  paidBy: [
    ['warranty', /\b(?:warranty|garantie|garantia|gewährleistung)/],
    ['maker', /\b(?:maker|manufacturer|oem|goodwill|kulanz|hersteller|constructeur|fabricante)/],
    ['supplier', /\b(?:supplier|parts claim|lieferant|fournisseur|proveedor)/],
    ['customer', /\b(?:customer|client|kunde|cliente|cp|retail)/],
    ['own', /\b(?:own|us|internal|intern|fleet|self|eigen|company)/],
  ],
  lookKind: [
    ['report', /\b(?:report|driver|customer|complaint|says|fahrer|chauffeur|conductor)/],
    ['scan', /\b(?:scan\w*|diag\w*|codes?|read ?out|auslesen)/],
    ['road', /\b(?:road|test drive|drive|probefahrt|essai)/],
    ['measure', /\b(?:measur\w*|meter|gauge|messung|mesure|compression)/],
    ['lamp', /\b(?:lamp|mil|light)/],
    ['visual', /\b(?:visual|walk|inspection|look\w*|sicht\w*|visuel)/],
  ],
  codeState: [
    ['pending', /\b(?:pending|sporadic|intermittent|sporadisch)/],
    ['permanent', /\bpermanent/],
    ['stored', /\b(?:stored|confirmed|active|current|present|gespeichert|aktiv)/],
  ],
  lamp: [
    ['no', /^(?:no|n|off|0|aus|nein|non|false)$/],
    ['yes', /^(?:yes|y|on|x|1|ein|an|ja|oui|si|true|lit)$/],
  ],
  change: [
    ['gap-from', /\b(?:gap from|records? (?:end|missing from))/],
    ['gap-to', /\b(?:gap to|records? (?:again|resume))/],
    ['engine-used', /\bused engine|engine.*used|gebrauchtmotor/],
    ['engine-rebuilt', /\b(?:rebuilt|overhaul|reconditioned|austauschmotor)/],
    ['engine-new', /\bnew engine|engine (?:new|replaced|changed)|neuer motor/],
    ['cluster', /\b(?:cluster|instrument|speedo|odometer (?:replaced|changed)|tacho)/],
    ['owner', /\b(?:owner|keeper|halter)/],
  ],
}

/** What one text seems to stand for; null where nothing says. */
export function guessWord(meaning: Meaning, text: string, families: readonly Family[]): string | null {
  const key = wordKey(text)
  if (meaning === 'engine') return engineOfWords(text, families)
  if (meaning === 'version') return versionOfWords(key, families)
  if (meaning === 'signs') return signsOfWords(text, families)
  if (meaning === 'action')
    return exactly(key, ['renew', 'partial', 'temporary', 'inspect']) ?? actionIn(wordsOf(text))
  if (meaning === 'found')
    return exactly(key, ['failed', 'developing', 'sound']) ?? (foundIn(wordsOf(text), 'inspect') || null)
  const list = LISTS[meaning] ?? []
  const words = list.map(([word]) => word)
  return exactly(key, words) ?? list.find(([, form]) => form.test(key))?.[0] ?? null
}

const exactly = (key: string, words: readonly string[]): string | null =>
  words.find((word) => word === key) ?? null

function versionOfWords(key: string, families: readonly Family[]): string | null {
  const variants = families.flatMap(({ variants }) => variants)
  return variants.find((each) => wordKey(each.key) === key || wordKey(each.name) === key)?.key ?? null
}

const LAMP =
  /\b(?:(?:engine|warning|check engine|mil) ?(?:light|lamp)?s? (?:is )?on|mil on|eml on|mkl an|voyant moteur)\b/

/** The sign whose words a text has, at the position that it names. */
function signsOfWords(text: string, families: readonly Family[]): string | null {
  const key = wordKey(text)
  if (isNoCodes(key)) return NO_CODES
  if (LAMP.test(key)) return LAMP_ON
  const words = wordsOf(text)
  const said = new Set(words.map(partWord))
  const likely = families
    .flatMap(({ signs }) => signs)
    .filter((sign) => !sign.retired)
    .map((sign) => ({ sign, share: Math.max(...namesOf(sign).map((words) => shareOf(words, said))) }))
    .filter(({ share }) => share >= LEAST_SIGN)
    .sort((a, b) => b.share - a.share)
  const [best] = likely
  if (!best || likely.some(({ sign, share }) => share === best.share && sign.key !== best.sign.key))
    return null
  const { sign } = best
  const position = words.map(Number).find((n) => n >= 1 && n <= sign.positions)
  return sign.positioned && position !== undefined ? `${sign.key}@${position}` : sign.key
}

const LEAST_SIGN = 0.6
const SMALL = new Set(['on', 'one', 'the', 'a', 'at', 'of', 'in', 'from', 'cylinder', 'cyl'])

const wordsOfSign = new WeakMap<Sign, string[][]>()

/** The words of a sign's key and of its label; thousands of texts are held against the same signs. */
function namesOf(sign: Sign): string[][] {
  const made = wordsOfSign.get(sign)
  if (made) return made
  const names = [sign.key, sign.label].map((name) =>
    wordsOf(name)
      .filter((word) => !SMALL.has(word))
      .map(partWord),
  )
  wordsOfSign.set(sign, names)
  return names
}

const shareOf = (words: readonly string[], said: ReadonlySet<string>): number =>
  words.length === 0 ? 0 : words.filter((word) => said.has(word)).length / words.length
