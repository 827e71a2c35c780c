/** Library files of three invented engine families for the simulated fleets: weak points that share signs. */
import { type Library, parseLibrary } from '@/lib/records/library'
import type { Random } from './random'

export type Grade = 'hunch' | 'experience' | 'documented'

const KNOT = {
  key: 'knot-16',
  name: 'Knot 1.6',
  cylinders: 4,
  weakPoints: [
    point('injector', 110000, 190000, 7000, {
      positions: 4,
      duty: { short: 1.2, mixed: 1, long: 0.9 },
      revisions: [{ key: 'mk2', lifeFactor: 1.4, confidence: 'experience' }],
      success: 0.97,
    }),
    point('coil', 80000, 140000, 2500, { positions: 4 }),
    point('deposits', 60000, 110000, 20000, { duty: { short: 1.3, mixed: 1, long: 0.8 }, success: 0.95 }),
    point('cover-seep', 70000, 130000, 25000, {}),
    point('pump-gasket', 120000, 220000, 6000, {}),
  ],
  signs: [
    sign(
      'misfire',
      'code',
      0.004,
      { injector: 0.4, coil: 0.7, deposits: 0.15 },
      { codes: ['P030#'], lamp: true },
    ),
    sign('rail-pressure', 'code', 0.006, { injector: 0.25 }, { codes: ['P0087'] }),
    sign('rough-cold', 'road', 0.02, { deposits: 0.5, injector: 0.2 }),
    sign('oil-trace', 'visual', 0.03, { 'cover-seep': 0.7, 'pump-gasket': 0.6 }),
  ],
  upstream: [{ from: 'cover-seep', to: 'pump-gasket', strength: 3 }],
}

const DUNLIN = {
  key: 'dunlin-20',
  name: 'Dunlin 2.0',
  cylinders: 4,
  weakPoints: [
    point('turbo', 130000, 230000, 12000, {
      revisions: [{ key: 'clip', lifeFactor: 0.08, confidence: 'experience', temporary: true }],
    }),
    point('diverter', 70000, 130000, 6000, {}),
    point('boost-hose', 90000, 170000, 4000, {}),
    point('egr-valve', 80000, 150000, 9000, { duty: { short: 1.4, mixed: 1, long: 0.8 } }),
    point('flow-meter', 90000, 200000, 5000, {}),
    point('chain', 140000, 220000, 10000, { severity: 'stop' }),
    point('cam-phaser', 110000, 210000, 8000, {}),
    point('fuel-pump', 150000, 260000, 3000, { severity: 'stop' }),
  ],
  signs: [
    sign(
      'boost-low',
      'code',
      0.004,
      { turbo: 0.5, diverter: 0.5, 'boost-hose': 0.6, 'flow-meter': 0.2 },
      {
        codes: ['P0299'],
        lamp: true,
      },
    ),
    sign('whistle', 'road', 0.015, { turbo: 0.5, 'boost-hose': 0.4, diverter: 0.15 }),
    sign(
      'lean',
      'code',
      0.005,
      { 'flow-meter': 0.6, 'boost-hose': 0.3, 'fuel-pump': 0.4 },
      {
        codes: ['P0171'],
        lamp: true,
      },
    ),
    sign('egr-flow', 'code', 0.005, { 'egr-valve': 0.6, 'flow-meter': 0.15 }, { codes: ['P0401'] }),
    sign(
      'cam-correlation',
      'code',
      0.001,
      { chain: 0.5, 'cam-phaser': 0.35 },
      { codes: ['P0016'], lamp: true },
    ),
    sign('rattle', 'road', 0.02, { chain: 0.6, 'cam-phaser': 0.3, turbo: 0.1 }),
    sign('rail-drop', 'measure', 0.02, { 'fuel-pump': 0.7 }),
  ],
  upstream: [],
}

const SISKIN = {
  key: 'siskin-30',
  name: 'Siskin 3.0',
  cylinders: 6,
  weakPoints: [
    point('water-pump', 90000, 160000, 8000, {}),
    point('thermostat', 70000, 150000, 5000, {}),
    point('radiator', 2200, 3900, 200, { clock: 'time' }),
    point('hose', 1900, 3300, 120, { clock: 'time' }),
    point('head-gasket', 170000, 280000, 5000, { severity: 'stop' }),
    point('belt', 110000, 160000, 4000, { severity: 'stop', renewEvery: 120000 }),
    point('tensioner', 90000, 170000, 9000, {}),
    point('plugs', 60000, 95000, 10000, { renewEvery: 60000, success: 0.99 }),
    point('alternator', 120000, 210000, 0, {}),
  ],
  signs: [
    sign('coolant-loss', 'visual', 0.02, {
      'water-pump': 0.6,
      radiator: 0.6,
      hose: 0.5,
      'head-gasket': 0.4,
    }),
    sign(
      'too-hot',
      'code',
      0.002,
      { 'water-pump': 0.3, thermostat: 0.5, radiator: 0.2, 'head-gasket': 0.3 },
      {
        codes: ['P0217'],
        lamp: true,
      },
    ),
    sign('slow-warm', 'code', 0.004, { thermostat: 0.6 }, { codes: ['P0128'] }),
    sign('squeal', 'road', 0.03, { belt: 0.3, tensioner: 0.6, 'water-pump': 0.15 }),
    sign('belt-cracks', 'visual', 0.02, { belt: 0.6 }),
    sign('misfire-any', 'code', 0.006, { plugs: 0.35, 'head-gasket': 0.3 }, { codes: ['P0300'], lamp: true }),
  ],
  upstream: [],
}

const FAMILIES = { knot: KNOT, dunlin: DUNLIN, siskin: SISKIN }

/** One family as a library, every statement made with the same grade of confidence. */
export function simulatedLibrary(name: keyof typeof FAMILIES, confidence: Grade): Library {
  const family = FAMILIES[name]
  const weakPoints = family.weakPoints.map((w) => ({ ...w, confidence }))
  return libraryOf({ families: [{ ...family, weakPoints }] })
}

/** A library file's text read as the product reads it, so that every default is the product's. */
export function libraryOf(content: object): Library {
  const read = parseLibrary(JSON.stringify({ format: 'gudgeon-library/1', name: 'Simulated', ...content }))
  if (!read.ok) throw new Error(JSON.stringify(read.errors))
  return read.library
}

/** The same library, if its author had guessed the rates of its signs: each lies off what is stated. */
export function otherSigns(library: Library, random: Random): Library {
  const families = library.families.map((family) => ({
    ...family,
    signs: family.signs.map((each) => ({
      ...each,
      leak: each.leak * Math.exp(LEAK_SPREAD * random.normal()),
      causes: each.causes.map((cause) => ({ ...cause, detect: moved(cause.detect, random) })),
    })),
  }))
  return { ...library, families }
}

/** Standard deviations of the log of `leak` and of the log odds of `detect`. */
const LEAK_SPREAD = 0.7
const DETECT_SPREAD = 0.8

function moved(detect: number, random: Random): number {
  const odds = (detect / (1 - detect)) * Math.exp(DETECT_SPREAD * random.normal())
  return odds / (1 + odds)
}

function point(key: string, p10: number, p50: number, warning: number, more: object) {
  const named = { key, component: key, failureMode: 'wears out', clock: 'distance', confidence: 'experience' }
  return {
    ...named,
    onset: { p10, p50 },
    warning,
    cost: { parts: 200, hours: 2, failureExtra: 500 },
    ...more,
  }
}

function sign(key: string, kind: string, leak: number, causes: Record<string, number>, more: object = {}) {
  const links = Object.entries(causes).map(([weakPoint, detect]) => ({ weakPoint, detect }))
  return { key, label: key, kind, leak, causes: links, ...more }
}
