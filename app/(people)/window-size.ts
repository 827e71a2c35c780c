/** Up to so many rows a list is one plain page, which find, print and screen readers have whole. */
export const WHOLE_UP_TO = 300

/** A longer list is fetched in parts of so many rows, as they come into sight. */
export const ROWS_AT_ONCE = 50
