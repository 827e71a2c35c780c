import QRCode from 'qrcode'

/** A QR code as one path of dark modules, a unit each; `across` is how many there are, without the quiet zone. */
export type QrPath = { path: string; across: number }

/** The clear edge that readers need round a code, in modules (ISO/IEC 18004). */
export const QUIET_ZONE = 4

/** The code of a text; level M: it is still read where a seventh of it is dirty. */
export function qrPath(text: string): QrPath {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' })
  const { size: across } = modules
  const isDark = (x: number, y: number) => modules.get(y, x) !== 0
  const runs: string[] = []
  for (let y = 0; y < across; y++)
    for (let x = 0; x < across; x++) {
      if (!isDark(x, y)) continue
      const from = x
      while (x + 1 < across && isDark(x + 1, y)) x++
      runs.push(`M${from} ${y}h${x + 1 - from}v1h${from - x - 1}z`)
    }
  return { path: runs.join(''), across }
}
