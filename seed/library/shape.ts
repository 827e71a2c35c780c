/** The parts of a library file that the demo states; what it leaves out takes the format's defaults. */
export type Confidence = 'hunch' | 'experience' | 'documented'

export type WeakPointEntry = {
  key: string
  component: string
  failureMode: string
  clock?: 'distance' | 'hours' | 'time'
  positions?: number
  /** In the clock's unit: km, engine hours or days. */
  onset: { p10: number; p50: number }
  warning: number
  confidence: Confidence
  revisions?: { key: string; name: string; lifeFactor: number; confidence: Confidence; temporary?: boolean }[]
  variants?: Record<string, { lifeFactor?: number; confidence?: Confidence; absent?: boolean }>
  duty?: { short: number; mixed: number; long: number }
  severity?: 'stop' | 'soon' | 'plan'
  harm?: boolean
  renewEvery?: number
  restored?: number
  cost: { parts: number; hours: number; sharedHours?: number; failureExtra: number; daysOff: number }
  access?: string
  part: string
  asASet?: boolean
  zone: string
  cautions: string[]
  grounds: string
}

export type SignEntry = {
  key: string
  label: string
  kind: 'code' | 'visual' | 'road' | 'measure'
  codes?: string[]
  zone: string
  how: string
  lamp?: boolean
  leak: number
  stop?: boolean
  hours?: number
  positions?: number
  causes: { weakPoint: string; detect: number }[]
}

export type FamilyEntry = {
  key: string
  name: string
  cylinders: number
  variants: { key: string; name: string }[]
  weakPoints: WeakPointEntry[]
  signs: SignEntry[]
  upstream: { from: string; to: string; strength: number }[]
}
