import type { Ending } from '../endings'

/** What the stock manager must find on the first page: in the yard, and among those sold with cover. */
export const DEALER_ENDINGS: readonly Ending[] = [
  {
    family: 'plover-16',
    of: 'untracked',
    knownDays: 5,
    quietDays: 62,
    minKm: 60000,
    notes: [
      { ago: 60, code: 'P0303', lamp: 'yes', clearedAgo: 58 },
      { ago: 58, repair: 'spark-plug', positions: 'all', action: 'renew', found: null, note: 'plugs first' },
      { ago: 33, code: 'P0303', lamp: 'yes', clearedAgo: 31 },
      { ago: 31, repair: 'ignition-coil', positions: '3', action: 'renew', found: 'sound', revision: 'mk2' },
      { ago: 30, check: 'scan', seen: '', sinceClearedKm: 12 },
      { ago: 4, check: 'scan', seen: 'misfire@3' },
      { ago: 4, code: 'P0303', lamp: 'yes' },
    ],
  },
  {
    family: 'dunlin-20',
    of: 'untracked',
    knownDays: 5,
    quietDays: 20,
    minKm: 80000,
    notes: [
      { ago: 12, check: 'scan', seen: 'soot-load' },
      { ago: 12, code: 'P2463', lamp: 'no' },
    ],
  },
  {
    family: 'plover-16',
    of: 'untracked',
    knownDays: 5,
    quietDays: 60,
    minKm: 70000,
    notes: [
      {
        ago: 55,
        repair: 'wastegate',
        positions: 'all',
        action: 'temporary',
        found: 'developing',
        revision: 'clip',
        note: 'to get it through the viewing',
      },
      { ago: 6, check: 'road', seen: 'wastegate-rattle' },
    ],
  },
  {
    family: 'plover-16',
    of: 'standing',
    knownDays: 5,
    quietDays: 25,
    minKm: 60000,
    notes: [
      { ago: 19, check: 'visual', seen: 'oil-front' },
      { ago: 19, check: 'scan', seen: '' },
    ],
  },
  {
    family: 'siskin-12',
    of: 'untracked',
    knownDays: 5,
    quietDays: 25,
    minKm: 70000,
    notes: [{ ago: 8, check: 'measure', seen: 'belt-swollen' }],
  },
  {
    family: 'siskin-12',
    of: 'cover',
    knownDays: 60,
    quietDays: 20,
    minKm: 40000,
    notes: [{ ago: 2, check: 'report', seen: 'lamp-on' }],
  },
  {
    family: 'dunlin-20',
    of: 'cover',
    knownDays: 60,
    quietDays: 20,
    minKm: 60000,
    notes: [
      { ago: 1, check: 'report', seen: 'lamp-on' },
      { ago: 0, code: 'P0016', lamp: 'yes' },
    ],
  },
]
