/** The page beside a vehicle, and the one where it is looked for. */
export const AT = '/at'

/** What is being entered there. */
export type AtPlace = { unit: string | null; doing: string | null; weakPoint: string | null }

/** The address of a vehicle's page on a phone; of one of its forms. */
export function atAddress(unit: string, { doing, weakPoint }: Partial<Omit<AtPlace, 'unit'>> = {}): string {
  const asked = new URLSearchParams()
  if (doing) asked.set('do', doing)
  if (weakPoint) asked.set('weak-point', weakPoint)
  const query = asked.size > 0 ? `?${asked}` : ''
  return `${AT}/${encodeURIComponent(unit)}${query}`
}

/** Where an address of those leads. */
export function atPlaceIn(pathname: string, parameters: Pick<URLSearchParams, 'get'>): AtPlace {
  const [, named] = /^\/at\/([^/]+)\/?$/.exec(pathname) ?? []
  return {
    unit: named === undefined ? null : decoded(named),
    doing: parameters.get('do'),
    weakPoint: parameters.get('weak-point'),
  }
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text)
  } catch {
    return text
  }
}
