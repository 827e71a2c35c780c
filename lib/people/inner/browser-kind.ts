/** What a browser says of itself, most telling first: many name others as well, so as to be served like them. */
const BROWSERS: readonly [RegExp, string][] = [
  [/\bEdg(A|iOS)?\//, 'Edge'],
  [/\bOPR\//, 'Opera'],
  [/\b(Firefox|FxiOS)\//, 'Firefox'],
  [/\bHeadlessChrome\//, 'Chromium'],
  [/\b(Chrome|CriOS)\//, 'Chrome'],
  [/\bSafari\//, 'Safari'],
]

const SYSTEMS: readonly [RegExp, string][] = [
  [/\bAndroid\b/, 'Android'],
  [/\b(iPhone|iPad)\b/, 'iOS'],
  [/\bWindows\b/, 'Windows'],
  [/\bMac OS X\b/, 'macOS'],
  [/\bCrOS\b/, 'ChromeOS'],
  [/\bLinux\b/, 'Linux'],
]

/**
 * The kind of a browser in two words, by which its owner knows it again and nobody else learns much.
 *
 * @param userAgent what it says of itself
 * @returns blank where it says nothing that we know
 */
export function browserKind(userAgent: string): string {
  const of = (kinds: readonly [RegExp, string][]) => kinds.find(([sign]) => sign.test(userAgent))?.[1]
  const [browser, system] = [of(BROWSERS), of(SYSTEMS)]
  return browser && system ? `${browser} on ${system}` : (browser ?? system ?? '')
}
