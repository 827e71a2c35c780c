/**
 * How long parts really last in the invented world, as multiples of what the library states: about half of
 * the statements are right, the others wrong by 20 to 60 %. The scoring code never reads this file.
 */
const TRUE_LIVES: Record<string, { life?: number; warning?: number }> = {
  'plover-16/ignition-coil': { life: 0.75 },
  'plover-16/injector': { life: 1.25 },
  'plover-16/inlet-deposits': { life: 0.8, warning: 1.3 },
  'plover-16/timing-chain': { warning: 0.7 },
  'plover-16/wastegate': { life: 0.7 },
  'plover-16/hp-pump': { life: 1.4 },
  'dunlin-20/glow-plug': { life: 0.8, warning: 0.8 },
  'dunlin-20/water-pump': { life: 0.8 },
  'dunlin-20/egr-valve': { life: 1.3, warning: 1.4 },
  'dunlin-20/egr-cooler': { life: 0.65 },
  'dunlin-20/particle-filter': { life: 0.75, warning: 1.5 },
  'dunlin-20/hp-pump': { life: 1.3 },
  'siskin-12/ignition-coil': { life: 0.8, warning: 1.2 },
  'siskin-12/thermostat': { life: 0.6 },
  'siskin-12/coolant-hose': { life: 1.3 },
  'siskin-12/catalyst': { life: 1.5 },
  'siskin-12/alternator': { life: 0.8 },
  'knot-82/injector': { life: 1.2 },
  'knot-82/water-pump': { life: 0.75, warning: 0.8 },
  'knot-82/dosing-valve': { life: 0.6 },
  'knot-82/lift-pump': { warning: 1.4 },
  'knot-82/air-compressor': { life: 1.4 },
}

export const trueLife = (family: string, weakPoint: string): { life: number; warning: number } => ({
  life: 1,
  warning: 1,
  ...TRUE_LIVES[`${family}/${weakPoint}`],
})

/** True life factors of part versions where they differ from the stated one. */
const TRUE_REVISIONS: Record<string, number> = {
  'plover-16/ignition-coil/mk2': 1.0,
  'plover-16/wastegate/mk2': 1.6,
  'siskin-12/ignition-coil/mk2': 2.2,
  'knot-82/turbo-actuator/mk2': 1.1,
}

export const trueRevision = (family: string, weakPoint: string, revision: string, stated: number): number =>
  TRUE_REVISIONS[`${family}/${weakPoint}/${revision}`] ?? stated

/** The batch of a better part that lasts longer still: its factor on top of the version's own. */
export const LONG_LASTING_BATCH = { name: 'K7', factor: 1.4 }

/** Days (before the end) from which the parts store supplies a lasting new version instead of the original. */
export const NEW_VERSION_FROM: Record<string, number> = {
  'plover-16/ignition-coil': -900,
  'plover-16/wastegate': -1000,
  'siskin-12/ignition-coil': -1500,
  'knot-82/turbo-actuator': -1200,
}
