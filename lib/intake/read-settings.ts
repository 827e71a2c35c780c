import { nearestName } from '@/lib/records/nearest'
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
  const written = jsonOf(bytes)
  const parsed = settingsSchema.safeParse(written)
  if (!parsed.success) {
    const wrong = parsed.error.issues.map(
      ({ path, message }) => `${path.join('.') || 'the file'}: ${message}`,
    )
    throw new IntakeRefusal(`${FILE}: ${wrong.join('; ')}`)
  }
  const known = Object.keys(settingsSchema.shape)
  const unknown = Object.keys(Object(written)).filter((key) => !known.includes(key))
  const notices = unknown.map((key) => ({ file: FILE, line: null, message: unknownKey(key, known) }))
  return { settings: parsed.data, notices }
}

function unknownKey(key: string, known: readonly string[]): string {
  const near = nearestName(key, known)
  return `the key "${key}" is not known and has no effect${near === null ? '' : `; did you mean "${near}"?`}`
}

function jsonOf(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes))
  } catch (error) {
    throw new IntakeRefusal(
      `${FILE}: is no JSON in UTF-8 (${error instanceof Error ? error.message : error})`,
    )
  }
}
