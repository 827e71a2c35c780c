import type { Advice } from '@/lib/decisions/advice'

/** What a change of records did to a component: its chance at 90 days and its advice; null where it has no score. */
export type ComponentChange = {
  weakPoint: string
  position: number
  pFail: { before: number | null; after: number | null }
  advice: { before: Advice | null; after: Advice | null }
}

/** What it did to a vehicle. */
export type VehicleChange = {
  unit: string
  advice: { before: Advice | null; after: Advice | null }
  components: ComponentChange[]
}
