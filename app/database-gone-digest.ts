/** By what the page that tells of a failure knows this one: of an error on the server a page sees its digest alone. */
export const DATABASE_GONE = 'database-gone'
