import { ADVICE, type Advice } from '@/lib/decisions/advice'

/** What a vehicle's row says: an advice, or that its engine is not in the library. */
export type Standing = Advice | 'not-assessed'

/** Every standing, the most urgent first. */
export const STANDINGS: readonly Standing[] = [...ADVICE, 'not-assessed']
