/** A customer's name as two of them are compared: capitals, accents' encoding and blanks tell nobody apart. */
export function customerKey(name: string): string {
  return name.normalize('NFKC').trim().replace(/\s+/g, ' ').toLocaleLowerCase('en')
}
