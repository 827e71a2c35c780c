/** What is wrong with what was typed: at a field, or with the whole (null). It says what to do. */
export type TypedError = { field: string | null; message: string }
