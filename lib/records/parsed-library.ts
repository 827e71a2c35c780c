import { type ParsedLibrary, parseLibrary } from '@/lib/records/library'

/** So many libraries are kept: those of the organisations at work. */
const MOST = 8
const kept = new Map<string, ParsedLibrary>()

/**
 * What a library says, read once as long as its text is the same; nobody may change what is handed out. Of many
 * libraries the one not asked for longest is let go.
 */
export function parsedLibrary(content: string): ParsedLibrary {
  const parsed = kept.get(content) ?? parseLibrary(content)
  kept.delete(content)
  kept.set(content, parsed)
  const [oldest] = kept.keys()
  if (kept.size > MOST && oldest !== undefined) kept.delete(oldest)
  return parsed
}
