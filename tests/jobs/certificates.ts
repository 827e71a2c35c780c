import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { generate } from 'selfsigned'

/** A key, a certificate, and the file of that certificate, for whoever is to trust it. */
export type Certified = { key: string; cert: string; file: string }

/** A certificate that vouches for itself. @param name of a server @param until when it runs out; years from now if not said */
export async function certificateFor(name: string, until?: Date): Promise<Certified> {
  const { private: key, cert } = await generate([{ name: 'commonName', value: name }], {
    keySize: 2048,
    ...(until ? { notBeforeDate: new Date(until.getTime() - 86_400_000), notAfterDate: until } : {}),
    extensions: [{ name: 'subjectAltName', altNames: [{ type: 2, value: name }] }],
  })
  const file = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-certificate-')), 'certificate.pem')
  fs.writeFileSync(file, cert)
  return { key, cert, file }
}
