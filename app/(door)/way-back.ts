/**
 * Where to go after signing in: an address of this product, whatever was asked for.
 *
 * @param from what the door's own address says, which anybody may have written
 */
export function wayBack(from: string | undefined): string {
  const here = 'http://here.invalid'
  if (!from?.startsWith('/')) return '/'
  const address = URL.canParse(from, here) ? new URL(from, here) : null
  if (address?.origin !== here || /^\/(\/|door)/.test(address.pathname)) return '/'
  return address.pathname + address.search
}
