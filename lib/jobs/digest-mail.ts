import type { DigestLine, DigestText } from './digest-words'

/** The week as the two parts of a mail. */
export type DigestMail = { subject: string; text: string; html: string }

const CAUTION =
  'Before any work, the maker’s instructions, local rules and a qualified technician come first. A chance is not a finding.'

/**
 * The week as a mail: plain text, and the same as simple HTML. Every line says where more of it stands.
 *
 * @param origin where people reach the product, without a slash at the end
 * @param unsubscribe the address that stops it
 */
export function digestMail(
  { title, lead, sections }: DigestText,
  { origin, unsubscribe, page }: { origin: string; unsubscribe: string; page: string },
): DigestMail {
  const linesOf = ({ lines, note }: DigestText['sections'][number]) => [...lines, ...(note ? [note] : [])]
  const plain = ({ text, address }: DigestLine) => `- ${text}\n  ${origin}${address}`
  const marked = ({ text, address }: DigestLine) =>
    `<li><a href="${escaped(origin + address)}">${escaped(text)}</a></li>`
  const stop = 'Stop these mails'
  const text = [
    title,
    lead,
    ...sections.map((section) => [section.heading, ...linesOf(section).map(plain)].join('\n')),
    CAUTION,
    `On a page: ${origin}${page}\n${stop}: ${unsubscribe}`,
  ].join('\n\n')
  const html = [
    '<!doctype html><html lang="en"><body style="font-family: sans-serif; max-width: 40em">',
    `<h1 style="font-size: 1.3em">${escaped(title)}</h1><p>${escaped(lead)}</p>`,
    ...sections.map(
      (section) =>
        `<h2 style="font-size: 1.1em">${escaped(section.heading)}</h2><ul>${linesOf(section).map(marked).join('')}</ul>`,
    ),
    `<p>${escaped(CAUTION)}</p>`,
    `<p><a href="${escaped(origin + page)}">On a page</a> · <a href="${escaped(unsubscribe)}">${stop}</a></p>`,
    '</body></html>',
  ].join('\n')
  return { subject: title, text: `${text}\n`, html }
}

const MARKS: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' }
const escaped = (text: string) => text.replace(/[&<>"']/g, (mark) => MARKS[mark] ?? mark)
