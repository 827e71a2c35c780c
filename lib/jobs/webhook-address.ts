import ipaddr from 'ipaddr.js'

/** What the installation allows of addresses that are told: any at all, or only public ones by https. */
export type WebhookRules = { anywhere: boolean }

const LONGEST_ADDRESS = 2000

/**
 * What is wrong with an address that is to be told, in a sentence that says what to do; null where nothing is. Where its
 * name leads is looked up each time when it is told (`isPublic`), for that may change.
 */
export function wrongWithAddress(text: string, { anywhere }: WebhookRules): string | null {
  const url = URL.canParse(text) ? new URL(text) : null
  if (!url || text.length > LONGEST_ADDRESS || !['https:', 'http:'].includes(url.protocol))
    return 'Write a whole address, like https://example.org/gudgeon.'
  if (url.username || url.password) return 'Leave name and password out: what is sent is signed instead.'
  if (anywhere) return null
  if (url.protocol !== 'https:')
    return 'Write an address that begins with https://: others can be read on the way.'
  const literal = literalOf(url.hostname)
  return literal !== null && !isPublic(literal)
    ? 'Write an address on the public network: this one lies within a private one.'
    : null
}

/** The address that a host of a URL is, without brackets; null for a name. */
export function literalOf(hostname: string): string | null {
  const bare = hostname.replace(/^\[|\]$/g, '')
  return ipaddr.isValid(bare) ? bare : null
}

/** Global unicast (RFC 4291): whatever else there is of IPv6 is no place of the public network. */
const GLOBAL_V6: [ipaddr.IPv6, number] = [ipaddr.IPv6.parse('2000::'), 3]
/** Public by its number, and yet answered by the machine's own provider. */
const PROVIDERS_OWN = ['168.63.129.16']

/**
 * Whether an address lies on the public network: not private, loopback, link-local, multicast, shared, reserved, nor one
 * that leads to such through another form (IPv4 within IPv6, translated, tunnelled), nor a provider's data about the machine.
 */
export function isPublic(address: string): boolean {
  if (!ipaddr.isValid(address) || PROVIDERS_OWN.includes(address)) return false
  const parsed = ipaddr.process(address)
  if (parsed.range() !== 'unicast') return false
  return parsed.kind() === 'ipv4'
    ? !PROVIDERS_OWN.includes(parsed.toString())
    : (parsed as ipaddr.IPv6).match(GLOBAL_V6)
}
