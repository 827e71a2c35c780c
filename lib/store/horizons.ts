/** The horizons, in days, for which scores are kept. */
export const STORED_HORIZONS_DAYS: readonly number[] = [30, 90, 180, 365]

/** The one of them whose scores have a history. */
export const HISTORY_HORIZON_DAYS = 90
