import type { Ending } from '../endings'

/** What the service adviser must find on the first page: the calls that are worth making today. */
export const REPAIR_SHOP_ENDINGS: readonly Ending[] = [
  {
    family: 'plover-16',
    of: 'untracked',
    knownDays: 300,
    quietDays: 160,
    minKm: 60000,
    notes: [
      { ago: 150, check: 'report', seen: 'lamp-on' },
      { ago: 146, code: 'P0302', lamp: 'yes', clearedAgo: 146 },
      {
        ago: 146,
        repair: 'spark-plug',
        positions: 'all',
        action: 'renew',
        found: null,
        note: 'customer: plugs first',
      },
      { ago: 88, code: 'P0302', lamp: 'yes', clearedAgo: 88 },
      { ago: 88, repair: 'ignition-coil', positions: '2', action: 'renew', found: 'sound', revision: 'mk2' },
      { ago: 9, code: 'P0302', lamp: 'yes' },
    ],
  },
  {
    family: 'dunlin-20',
    of: 'untracked',
    knownDays: 300,
    quietDays: 60,
    minKm: 80000,
    notes: [
      { ago: 22, check: 'scan', seen: 'soot-load' },
      { ago: 22, code: 'P2463', lamp: 'no' },
    ],
  },
  {
    family: 'plover-16',
    of: 'untracked',
    knownDays: 300,
    quietDays: 150,
    minKm: 80000,
    notes: [
      { ago: 410, check: 'report', seen: 'wastegate-rattle' },
      {
        ago: 402,
        repair: 'wastegate',
        positions: 'all',
        action: 'temporary',
        found: 'developing',
        revision: 'clip',
        note: 'customer did not want the turbocharger yet',
      },
      { ago: 17, check: 'report', seen: 'wastegate-rattle' },
      { ago: 14, check: 'road', seen: 'wastegate-rattle' },
    ],
  },
  {
    family: 'siskin-12',
    of: 'untracked',
    knownDays: 300,
    quietDays: 60,
    minKm: 80000,
    notes: [
      { ago: 13, check: 'measure', seen: 'belt-swollen' },
      { ago: 13, check: 'scan', seen: '' },
    ],
  },
  {
    family: 'siskin-12',
    of: 'untracked',
    knownDays: 300,
    quietDays: 60,
    minKm: 50000,
    notes: [{ ago: 1, check: 'report', seen: 'lamp-on' }],
  },
  {
    family: 'plover-16',
    of: 'untracked',
    knownDays: 300,
    quietDays: 60,
    minKm: 70000,
    notes: [
      { ago: 20, check: 'visual', seen: 'oil-front' },
      { ago: 20, check: 'scan', seen: '' },
    ],
  },
  {
    family: 'siskin-12',
    of: 'untracked',
    knownDays: 300,
    quietDays: 60,
    minKm: 60000,
    notes: [{ ago: 0, code: 'P0524', lamp: 'yes' }],
  },
  {
    family: 'siskin-12',
    of: 'standing',
    knownDays: 100,
    quietDays: 60,
    minKm: 20000,
    notes: [
      { ago: 47, check: 'visual', seen: '' },
      { ago: 12, check: 'visual', seen: 'hose-hard' },
    ],
  },
]
