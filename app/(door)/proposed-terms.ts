/** Regions that measure roads in miles. */
const MILES = ['US', 'GB', 'LR', 'MM', 'PR', 'GU', 'VI', 'AS', 'MP']

/** What to propose to whoever starts an organisation, from what their browser and this machine say. */
export function proposedTerms(acceptLanguage: string | null): {
  locale: string
  timeZone: string
  distance: 'km' | 'mi'
} {
  const asked = acceptLanguage?.split(',')[0]?.split(';')[0]?.trim() ?? ''
  const [locale = 'en'] = canonical(asked)
  const region = new Intl.Locale(locale).region ?? ''
  return {
    locale,
    timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    distance: MILES.includes(region) ? 'mi' : 'km',
  }
}

function canonical(tag: string): string[] {
  try {
    return Intl.getCanonicalLocales(tag)
  } catch {
    return []
  }
}
