import { nearestName } from '@/lib/records/nearest'
import { parseJson } from '@/lib/records/parse-json'
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '@/lib/records/settings'
import { IntakeRefusal, type Notice } from './findings'

const FILE = 'settings.json'

/**
 * Reads an organisation's settings. A key that we do not know is left out with a notice.
 *
 * @param bytes the whole file; undefined where there is none: the defaults.
 * @throws IntakeRefusal where it is no JSON object or a setting has a wrong value: a wrong limit or price must not
 *   be taken for the default.
 */
export function readSettings(bytes: Uint8Array | undefined): { settings: Settings; notices: Notice[] } {
  if (!bytes) return { settings: DEFAULT_SETTINGS, notices: [] }
  const parsed = parseJson(settingsSchema.loose(), textOf(bytes))
  if (!parsed.ok) {
    const wrong = parsed.errors.map(({ place, message }) => `${place}: ${message}`)
    throw new IntakeRefusal(`${FILE}: ${wrong.join('; ')}`)
  }
  const known = Object.keys(settingsSchema.shape)
  const unknown = Object.keys(parsed.value).filter((key) => !known.includes(key))
  const notices = unknown.map((key) => ({ file: FILE, line: null, message: unknownKey(key, known) }))
  return { settings: settingsSchema.parse(parsed.value), notices }
}

function unknownKey(key: string, known: readonly string[]): string {
  const near = nearestName(key, known)
  return `the key "${key}" is not known and has no effect${near === null ? '' : `; did you mean "${near}"?`}`
}

function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    throw new IntakeRefusal(`${FILE}: holds bytes that are not UTF-8`)
  }
}
