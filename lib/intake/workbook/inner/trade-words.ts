/** Words of the trade in English, German, French and Spanish, short forms among them (common practice, no source). */
import type { Tie } from '../mapping'

/** A text as it is compared with others: small letters without accents, words alone. */
export const wordsOf = (text: string): string[] =>
  text
    .toLowerCase()
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replaceAll('ß', 'ss')
    .replace(/\b(n\.? ?)?i\. ?o\b/g, (_, not?: string) => (not ? 'kein io' : 'io'))
    .match(/[\p{L}]+|\d+/gu) ?? []

type ActionWord = Tie['action']

const beginnings = (words: string) => new RegExp(`^(?:${words.split(' ').join('|')})`)
const whole = (words: string) => new RegExp(`^(?:${words.split(' ').join('|')})$`)

/** What was done; of several in one phrase, the first of this list. */
const ACTIONS: readonly (readonly [ActionWord, RegExp, RegExp])[] = [
  [
    'temporary',
    beginnings('tempor bodge patched provisor provision'),
    whole('temp tmp patch taped makeshift notdurftig'),
  ],
  [
    'renew',
    beginnings(
      'repl renew exchang fitted swap install erneuer ersetz gewechsel getausch austausch remplac chang sustitu reemplaz cambi montad',
    ),
    whole('rpl rep new chg fit neu neue neuer neues neuf neuve nuevo nueva wechsel tausch ern'),
  ],
  [
    'partial',
    beginnings(
      'clean adjust recondition regenerat repair reseal gereinig eingestell repar nettoy limpi ajust refurb',
    ),
    whole('regen reinigung clnd adj fixed nachgezogen tightened resserre'),
  ],
  [
    'inspect',
    beginnings(
      'check inspect test diag look examin gepruf prufung kontroll verif control comprob revis measur',
    ),
    whole('ck chk insp top topped investigate investigated ok'),
  ],
]

/** What a word says was done; null for other words. */
export const actionOf = (word: string): ActionWord | null =>
  ACTIONS.find(([, begins, is]) => begins.test(word) || is.test(word))?.[0] ?? null

/** What was done, by all words of a phrase; null where none says. */
export function actionIn(words: readonly string[]): ActionWord | null {
  const said = new Set(words.map(actionOf))
  return ACTIONS.find(([action]) => said.has(action))?.[0] ?? null
}

const FOUND: readonly (readonly [Exclude<Tie['found'], ''>, RegExp, RegExp])[] = [
  [
    'failed',
    beginnings('fail broke seiz snapp burst gebroch defekt kaputt casse averia grippe gefress'),
    whole('dead hs roto rota u/s blown stuck'),
  ],
  [
    'developing',
    beginnings('leak seep worn wear nois crack corro undicht verschliss use fuite desgast fuga riss suint'),
    whole('weak loose sticking poor perd'),
  ],
]
const SOUND = whole('ok okay good sound fine nff io gut bon bien')
const NOT = whole('no not kein keine ohne sans pas sin without never')

/** How the old part was, by the words of a phrase; blank where none says, or where something is denied. */
export function foundIn(words: readonly string[], action: Tie['action']): Tie['found'] {
  if (words.some((word) => NOT.test(word))) return ''
  const found = FOUND.find(([, begins, is]) => words.some((word) => begins.test(word) || is.test(word)))
  if (found) return found[0]
  return action === 'inspect' && words.some((word) => SOUND.test(word)) ? 'sound' : ''
}

/** Whether a word tells how something was, and not what it is. */
export const isState = (word: string): boolean =>
  SOUND.test(word) || NOT.test(word) || FOUND.some(([, begins, is]) => begins.test(word) || is.test(word))

/** Parts by one English word each; what stands behind the colon means the same. */
const PARTS = `
injector: inj injectors injektor injektoren einspritzduse einspritzdusen einspritzventil injecteur injecteurs inyector inyectores
nozzle: duse dusen gicleur tobera
coil: coils zundspule zundspulen bobine bobines bobina bobinas
plug: plugs kerze kerzen bougie bougies bujia bujias sparkplug sparkplugs zundkerze zundkerzen
glow: gluh gluhkerze gluhkerzen prechauffage calentador calentadores glowplug glowplugs
spark: zund allumage
thermostat: tstat stat thermostats termostato
gasket: gkt gskt gaskets dichtung dichtungen joint joints junta juntas
seal: seals dichtring wellendichtring bague reten retenes
pump: pumps pumpe pumpen pompe pompes bomba bombas
water: wasser eau agua coolant kuhlmittel kuhlwasser refrigerante refroidissement
waterpump: wasserpumpe wapu
oil: ol huile aceite
fuel: kraftstoff carburant combustible diesel
vacuum: vac vakuum unterdruck vide vacio
pressure: hochdruck pression presion hp
chain: ketten kette steuerkette chaine cadena chains
belt: riemen zahnriemen keilriemen courroie correa belts
timing: steuer distribution distribucion
tensioner: spanner kettenspanner tendeur tensor tensioners
turbo: turbocharger turbolader lader turbocompresseur turbocompressor
actuator: steller stellglied actionneur actuador
egr: agr
valve: valves ventil ventile vanne soupape valvula valvulas
cooler: kuhler refroidisseur enfriador radiator radiateur radiador
filter: filters filtre filtres filtro filtros
hose: hoses schlauch schlauche durite durites manguera manguito
pipe: pipes rohr leitung tuyau tubo
sensor: sensors fuhler geber capteur sonde sonda
alternator: lichtmaschine alternateur alternador
starter: anlasser demarreur arranque motor_de_arranque
battery: batterie bateria
clutch: kupplung embrayage embrague
flywheel: schwungrad dmf zms volant
bearing: bearings lager roulement rodamiento cojinete
head: zylinderkopf culasse culata
block: bloc bloque
piston: pistons kolben
ring: rings segment segmentos
rod: pleuel bielle biela
crank: crankshaft kurbelwelle vilebrequin ciguenal
cam: camshaft nockenwelle arbol_de_levas
cover: deckel ventildeckel haube couvercle tapa rocker
manifold: krummer collecteur colector
dpf: fap partikelfilter
scr: def nox
tank: reservoir deposito
bracket: halter support soporte
mount: mounts motorlager
pulley: riemenscheibe poulie polea
sump: olwanne carter
rail: rampe rampa
throttle: drossel drosselklappe papillon mariposa
flap: flaps klappe volet
housing: gehause boitier carcasa
fan: lufter ventilateur ventilador
relay: relais rele
wiring: loom harness kabel kabelbaum faisceau cableado
tyre: tyres tire tires reifen pneu pneus neumatico
brake: brakes bremse bremsen frein freins freno frenos pads pad disc discs
service: inspektion vidange revision servicio
lamp: lampe bulb bulbs
exhaust: auspuff abgas echappement escape
inlet: intake einlass ansaug admission admision
idler: umlenkrolle galet
catalyst: cat kat catalyseur catalizador
lambda: oxygen
drive: antrieb
guide: guides schiene fuhrung
tappet: lifter lifters hydrostossel poussoir taque
`

const CANONICAL = new Map<string, string>()
for (const line of PARTS.trim().split('\n')) {
  const [part = '', words = ''] = line.split(':')
  for (const word of [part, ...words.trim().split(' ')]) CANONICAL.set(word, part)
}

/** The one word for a part; the word itself, without the ending of many, where it is none of these. */
export const partWord = (word: string): string =>
  CANONICAL.get(word) ?? CANONICAL.get(withoutPlural(word)) ?? withoutPlural(word)

const withoutPlural = (word: string) => (word.length > 3 && /[^s]s$/.test(word) ? word.slice(0, -1) : word)

/** Whether a word is one for a part, or says which. */
export const isPart = (word: string): boolean => CANONICAL.has(word) || CANONICAL.has(withoutPlural(word))

const SAYS_WHICH = whole(
  'fuel oil water engine pressure front rear left right upper lower exhaust inlet drive',
)

/** How much a word tells of which part it is: one that many parts share tells little. */
export const weightOf = (part: string): number => (SAYS_WHICH.test(part) ? 0.3 : 1)
