import type { FamilyDraft } from './family-draft'

/** A small engine to begin with: invented, with one of everything that a family can say. */
export const EXAMPLE_FAMILY: FamilyDraft = {
  key: 'wagtail-1.4',
  name: 'Wagtail 1.4 (an example)',
  cylinders: 4,
  weakPoints: [
    {
      key: 'ignition-coil',
      component: 'Ignition coil',
      failureMode: 'breaks down when hot',
      positions: 4,
      onset: { p10: 60_000, p50: 140_000 },
      warning: 3000,
      confidence: 'experience',
      severity: 'soon',
      cost: { parts: 45, hours: 0.4, failureExtra: 40, daysOff: 0.5 },
      cautions: ['High voltage: ignition off before anything is unplugged.'],
      grounds: 'an example, invented',
    },
    {
      key: 'cover-gasket',
      component: 'Camshaft cover gasket',
      failureMode: 'seeps oil onto the coils',
      onset: { p10: 70_000, p50: 150_000 },
      warning: 30_000,
      confidence: 'hunch',
      severity: 'plan',
      cost: { parts: 30, hours: 1.2, failureExtra: 0, daysOff: 0 },
      grounds: 'an example, invented',
    },
  ],
  signs: [
    {
      key: 'misfire',
      label: 'Misfire on one cylinder',
      kind: 'code',
      codes: ['P030#'],
      how: 'Read the control unit with the engine warm.',
      lamp: true,
      leak: 0.005,
      causes: [{ weakPoint: 'ignition-coil', detect: 0.6 }],
    },
    {
      key: 'oil-on-cover',
      label: 'Oil around the camshaft cover',
      kind: 'visual',
      how: 'With a lamp along the joint, before washing.',
      leak: 0.03,
      causes: [{ weakPoint: 'cover-gasket', detect: 0.6 }],
    },
  ],
  upstream: [{ from: 'cover-gasket', to: 'ignition-coil', strength: 2 }],
}
