import { CFB } from '@e965/xlsx'
import { IntakeRefusal } from '../../findings'
import { DAMAGED, OTHER_KIND, PASSWORD } from './look-into-archive'

/**
 * Looks whether an old workbook (XLS) is there to its end: what reads it later takes the rows that are left of one that
 * was cut off for all of them.
 *
 * @returns whether it has macros
 * @throws IntakeRefusal
 */
export function lookIntoOldFile(bytes: Uint8Array): { hasMacros: boolean } {
  const file = opened(bytes)
  const find = (path: string) => CFB.find(file, path)
  if (find('/EncryptedPackage')) throw new IntakeRefusal(PASSWORD)
  if (find('/WordDocument') ?? find('/PowerPoint Document')) throw new IntakeRefusal(OTHER_KIND)
  const stream = find('/Workbook') ?? find('/Book')
  if (!stream || stream.content.length < stream.size) throw new IntakeRefusal(DAMAGED)
  return { hasMacros: find('/_VBA_PROJECT_CUR/VBA/dir') !== null }
}

function opened(bytes: Uint8Array) {
  try {
    return CFB.read(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength), { type: 'buffer' })
  } catch (cause) {
    throw new IntakeRefusal(DAMAGED, { cause })
  }
}
