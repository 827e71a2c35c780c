/**
 * The header that names a file to be kept (RFC 6266): for programs that know only ASCII, and in full (RFC 8187). Nothing
 * in it leads into another folder, hides its ending or ends the header.
 */
export function asFileNamed(stem: string, about: string, ending: string): string {
  const name = [stem, partOf(about)].filter(Boolean).join('-')
  const plain = name.normalize('NFKD').replace(/[^A-Za-z0-9._-]+/g, '')
  const full = encodeURIComponent(name).replace(
    /['()*]/g,
    (mark) => `%${mark.charCodeAt(0).toString(16).toUpperCase()}`,
  )
  return `attachment; filename="${plain || stem}.${ending}"; filename*=UTF-8''${full}.${ending}`
}

const MOST_CHARACTERS = 80

/** Letters and figures of any writing; all else, and dots at its ends, is a dash. */
function partOf(about: string): string {
  const kept = about.normalize('NFC').replace(/[^\p{L}\p{M}\p{N}._]+/gu, '-')
  return [...kept]
    .slice(0, MOST_CHARACTERS)
    .join('')
    .replace(/^[-.]+|[-.]+$/g, '')
}
