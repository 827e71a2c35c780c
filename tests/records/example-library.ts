import { type Library, parseLibrary } from '@/lib/records/library'

/** The example of the format's description as it is written: one invented engine with what a library can say. */
export const EXAMPLE_LIBRARY = {
  format: 'gudgeon-library/1',
  name: 'Example',
  labourRate: 80,
  dayOffRoad: 120,
  visit: 60,
  slotDays: 14,
  zones: ['front', 'inlet side', 'top', 'exhaust side', 'below', 'cab'],
  looks: { scan: { hours: 0.3 }, visual: { hours: 0.2 }, road: { hours: 0.4 }, measure: { hours: 0.8 } },
  families: [
    {
      key: 'plover-22',
      name: 'Plover 2.2',
      cylinders: 4,
      variants: [{ key: 'early', name: 'before 2019' }],
      weakPoints: [
        {
          key: 'injector',
          component: 'Fuel injector',
          failureMode: 'leaks or flows off specification',
          clock: 'distance',
          positions: 4,
          onset: { p10: 90000, p50: 180000 },
          warning: 8000,
          confidence: 'experience',
          revisions: [
            { key: 'mk2', lifeFactor: 1.5, confidence: 'hunch' },
            { key: 'clamp', lifeFactor: 0.1, confidence: 'experience', temporary: true },
          ],
          variants: { early: { lifeFactor: 0.8, confidence: 'experience' } },
          duty: { short: 1.2, mixed: 1, long: 0.9 },
          severity: 'soon',
          renewEvery: null,
          cost: { parts: 180, hours: 1.5, sharedHours: 1.0, failureExtra: 600, daysOff: 2 },
          access: 'rail',
          part: 'INJ-22',
          asASet: true,
          zone: 'inlet side',
          cautions: ['Fuel is under high pressure: let the rail bleed down first.'],
          grounds: 'own workshop, 2019 to 2024',
        },
        {
          key: 'cover-seep',
          component: 'Cam cover',
          onset: { p10: 60000, p50: 150000 },
          warning: 20000,
          confidence: 'hunch',
        },
        {
          key: 'pump-gasket',
          component: 'Vacuum pump gasket',
          onset: { p10: 80000, p50: 200000 },
          warning: 15000,
          confidence: 'hunch',
        },
      ],
      signs: [
        {
          key: 'misfire',
          label: 'Misfire on one cylinder',
          kind: 'code',
          codes: ['P030#'],
          zone: 'cab',
          how: 'Read the control unit with the engine warm.',
          lamp: true,
          leak: 0.002,
          stop: false,
          causes: [{ weakPoint: 'injector', detect: 0.35 }],
        },
        { key: 'oil-seep', kind: 'visual', causes: [{ weakPoint: 'cover-seep', detect: 0.6 }] },
      ],
      upstream: [{ from: 'cover-seep', to: 'pump-gasket', strength: 3 }],
    },
  ],
}

/** The example, read. */
export function exampleLibrary(): Library {
  const parsed = parseLibrary(JSON.stringify(EXAMPLE_LIBRARY))
  if (!parsed.ok)
    throw new Error(parsed.errors.map(({ place, message }) => `${place}: ${message}`).join('\n'))
  return parsed.library
}
