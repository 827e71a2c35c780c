/** The horizons, in days, for which scores are kept. */
export const STORED_HORIZONS_DAYS: readonly number[] = [30, 90, 180, 365]
