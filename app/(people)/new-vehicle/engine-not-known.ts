/** The engine family of a vehicle whose engine nobody has named; the library has none of that key, so it is not assessed. */
export const ENGINE_NOT_KNOWN = 'not-known'
