/** What the words of a header say that a column is (common practice, no source): English, German, French, Spanish. */
import { MEANINGS, type Meaning } from '../mapping'

/** A header as it is compared: small letters without accents, one blank between words. */
export const plainHeader = (header: string): string =>
  header
    .toLowerCase()
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^\p{L}\d€$£%#]+/gu, ' ')
    .trim()

const NUMBER = '(?: (?:no|nr|n|num|number|nummer|numero|id|#))?'

/** The first that fits counts: what says more stands above what says less. */
const HEADERS: readonly (readonly [Meaning, RegExp])[] = [
  ['vin', /\b(?:vin|chassis|fahrgestell\w*|fin|bastidor|numero de serie)\b/],
  ['kmSinceCleared', /since.*clear/],
  ['clearedOn', /\bcleared\b|geloscht/],
  ['lamp', /\b(?:mil|lamp|check engine|warning light|engine light|mkl|voyant|testigo)\b/],
  [
    'codes',
    /\b(?:dtcs?|(?:fault|trouble|error)? ?codes?|fehler(?:code)?s?|fehlerspeicher|codes? defauts?|codigos?)\b/,
  ],
  [
    'engineHours',
    /\b(?:engine hours?|hour ?meter|hours? run|run(?:ning)? hours|betriebsstunden|bh|heures moteur|horas motor)\b/,
  ],
  ['labourHours', /\b(?:labou?r|hours?|hrs|arbeitszeit|std|stunden|heures|horas|time spent)\b/],
  [
    'inServiceOn',
    /\b(?:in service|first reg\w*|date first reg\w*|erstzulassung|ez|mise en circulation|primera matriculacion)\b/,
  ],
  ['builtOn', /\b(?:built|build date|year|yr|model year|baujahr|bj|annee|ano|fabricacion)\b/],
  ['coverUntilKm', /\b(?:cover|warranty|garantie|garantia)\b.*\b(?:km|mi|miles|mileage)\b/],
  [
    'coverUntilOn',
    /\b(?:cover|warranty|garantie|garantia)\b.*\b(?:until|end\w*|expir\w*|to|bis|fin|hasta)\b/,
  ],
  ['soldOn', /\b(?:sold(?: on)?|sale date|date sold|verkauft|verkaufsdatum|vendu le|fecha venta)\b/],
  ['leftOn', /\b(?:left(?: on)?|retired on|disposed|disposal date|abgang)\b/],
  ['acquiredFrom', /\b(?:bought from|purchased from|acquired from|seller|verkaufer|vendeur)\b/],
  [
    'acquiredOn',
    /\b(?:bought(?: on)?|purchase date|purchased|date purchased|acquired(?: on)?|stocked|stock(?:ed)? (?:date|in)|date in stock|einkaufsdatum|ankaufsdatum|date achat|fecha compra)\b/,
  ],
  [
    'purchasePrice',
    /\b(?:purchase price|buy(?:ing)? price|cost price|paid|einkaufspreis|ek|ek preis|prix achat|precio compra)\b(?! by)/,
  ],
  [
    'askingPrice',
    /\b(?:asking(?: price)?|sale price|retail(?: price)?|screen price|sticker|verkaufspreis|vk|vk preis|prix de vente|precio venta)\b/,
  ],
  ['prepCost', /\b(?:prep\w*|recon\w*|aufbereitung|remise en etat)\b/],
  ['value', /\b(?:value|worth|book value|restwert|zeitwert|valeur|valor)\b/],
  ['paidBy', /\b(?:paid by|payer|charged to|pays|bezahlt von|paye par|pagado por)\b/],
  [
    'partsCost',
    /\b(?:parts?(?: (?:cost|price|total|net))?|material(?:kosten)?|teile\w*|pieces|piezas|repuestos|cost|costs|amount|net|betrag|montant|importe|kosten)\b(?! (?:no|version|number))/,
  ],
  [
    'watchedFromKm',
    /\b(?:odo\w*|km|miles|mileage)\b.*\b(?:start|begin\w*|purchase|installation|install|fitted)\b/,
  ],
  ['watchedFromOn', /\b(?:records? (?:from|since)|watched from|installed(?: on)?|installation date)\b/],
  ['engineKm', /\bengine (?:km|miles|mileage)\b/],
  [
    'odometer',
    /\b(?:odo\w*|mileage|milage|km ?stand|kms?|kilomet\w*|miles|mi|tacho\w*|laufleistung|compteur|clock)\b/,
  ],
  ['enteredOn', /\b(?:entered(?: on)?|created(?: on)?|erfasst(?: am)?|saisi le)\b/],
  ['paidBy', /\bpaid by\b/],
  ['revision', /\b(?:part version|part rev\w*|revision|supersession)\b/],
  ['batch', /\b(?:batch|lot|charge)\b/],
  ['supplier', /\b(?:supplier|vendor|lieferant|fournisseur|proveedor)\b/],
  ['positions', /\b(?:cyl|cylinder|cylinders|position|positions|pos|zylinder|cylindre|cilindro)\b/],
  ['found', /\b(?:found|condition|befund|etat|estado de la pieza)\b/],
  ['because', /\b(?:reason|why|cause|grund|anlass|motif|motivo)\b/],
  ['action', /\b(?:action|tatigkeit|accion)\b/],
  ['lookKind', /\b(?:kind of (?:check|look)|check type|inspection type|type of (?:check|inspection))\b/],
  ['codeState', /\b(?:code (?:state|status))\b/],
  ['change', /\b(?:change|anderung|changement|cambio)\b/],
  [
    'signs',
    /\b(?:symptoms?|signs?|findings?|complaints?|defects?|faults?|beanstandung(?:en)?|mangel|symptome\w*|sintomas?|seen)\b/,
  ],
  ['plate', /\b(?:reg|rego|regn|registration|plate|plates|licen[cs]e|kennzeichen|immat\w*|matricula|tag)\b/],
  [
    'ref',
    /\b(?:invoice|inv|job (?:no|nr|number|id|card)|order(?: (?:no|nr|number|id))?|work order|wo|ro|rechnung\w*|beleg\w*|facture|factura|ref|reference)\b(?! date)/,
  ],
  [
    'date',
    /\b(?:date|dated|datum|fecha|day|when|jour|tag|read on|seen on|done on|checked on|timestamp|time|month|monat)\b/,
  ],
  ['version', /\b(?:engine (?:version|variant)|variant|variante|version)\b/],
  ['engine', /\b(?:engine|motor|moteur|motorisation|motorisierung|engine (?:type|code|family))\b/],
  [
    'work',
    /\b(?:work|works|job|jobs|description|descr|repairs?|what was done|work done|details|task|labour description|arbeit\w*|beschreibung|leistung\w*|reparatur\w*|travaux|intervention|trabajo\w*|descripcion|reparacion\w*|item|text)\b/,
  ],
  ['contact', /\b(?:phone|tel|telephone|mobile|e ?mail|contact|telefon|telefono)\b/],
  ['customer', /\b(?:customer|client|owner|kunde|halter|cliente|keeper)\b/],
  ['site', /\b(?:site|depot|location|yard|branch|standort|niederlassung|agence|base|sede|garage)\b/],
  ['status', /\b(?:status|zustand|statut|estado)\b/],
  ['duty', /\b(?:duty|use|usage|trips?|einsatz|utilisation|uso|route)\b/],
  ['history', /\b(?:history|service history|historie|historique)\b/],
  ['source', /\b(?:source|device|tracker|read by|quelle)\b/],
  [
    'unit',
    new RegExp(
      `\\b(?:unit|vehicles?|veh|fleet|asset|truck|van|car|bus|stock|fahrzeug|fzg|kfz|wagen|vehicule|vehiculo|unidad|parc)${NUMBER}\\b`,
    ),
  ],
  [
    'note',
    /\b(?:notes?|remarks?|comments?|bemerkung\w*|kommentar\w*|anmerkung\w*|remarques?|observaciones|notas?|driver)\b/,
  ],
]

/** The columns of our own files of vehicles and their records, by their names. */
const OURS = new Map(
  (Object.keys(MEANINGS) as Meaning[]).flatMap((meaning) =>
    Object.entries(MEANINGS[meaning].fills).flatMap(([kind, column]) =>
      kind === 'parts' ? [] : [[plainHeader(column), meaning] as const],
    ),
  ),
)

/** Numbers of vehicles: their words stand before those of plates and dates (`vehicle reg` is a plate all the same). */
const UNIT_ALONE =
  /^(?:(?:unit|vehicle|veh|fleet|asset|truck|van|car|bus|stock|fahrzeug|fzg|kfz|wagen|vehicule|vehiculo|unidad) ?(?:no|nr|n|num|number|nummer|numero|id|#)?|no|nr|id)$/

/** Days and odometers that are not those of the row: of the last service, of the next test. */
export const OF_ANOTHER_DAY =
  /\b(?:next|due|expir\w*|last|previous|mot|insurance|tax|tuv|hu|nachst\w*|letzt\w*|fallig\w*|prochain\w*|dernier\w*|proxim\w*|ultim\w*)\b/
const OF_THE_ROW: readonly (Meaning | null)[] = ['date', 'odometer']

/** What a header says that its column is; null where its words say nothing. */
export function meaningOfHeader(header: string): Meaning | null {
  const plain = plainHeader(header)
  if (plain === '' || /^column \w+$/.test(plain)) return null
  const own = OURS.get(plain) ?? OURS.get(plain.replace(/ mi$/, ' km'))
  if (own && plain !== 'kind' && plain !== 'state') return own
  if (UNIT_ALONE.test(plain)) return 'unit'
  const found = HEADERS.find(([, form]) => form.test(plain))?.[0] ?? null
  return OF_THE_ROW.includes(found) && OF_ANOTHER_DAY.test(plain) ? null : found
}
