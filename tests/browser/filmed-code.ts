import fs from 'node:fs'
import QRCode from 'qrcode'

const [WIDTH, HEIGHT] = [640, 480]
/** A hand does not hold a label straight, nor across the whole picture. */
const [SHARE_OF_HEIGHT, TILT] = [0.6, 0.12]
const FRAMES = 3
/** Paper and ink under a workshop's lamp, and the bench round the label. */
const [PAPER, INK, BENCH] = [205, 45, 120]
const NO_COLOUR = 128
const EDGE = 4

/** Writes a film (YUV4MPEG2, 4:2:0) of a label that carries a text, as a camera may see it. */
export function filmCode(text: string, file: string): void {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' })
  const across = modules.size + 2 * EDGE
  const unit = (HEIGHT * SHARE_OF_HEIGHT) / across
  const [cos, sin] = [Math.cos(TILT) / unit, Math.sin(TILT) / unit]
  const brightness = Buffer.alloc(WIDTH * HEIGHT)
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const [dx, dy] = [x - WIDTH / 2, y - HEIGHT / 2]
      const column = Math.floor(cos * dx + sin * dy + across / 2) - EDGE
      const row = Math.floor(cos * dy - sin * dx + across / 2) - EDGE
      const isLabel = Math.min(column, row) >= -EDGE && Math.max(column, row) < modules.size + EDGE
      const isCode = Math.min(column, row) >= 0 && Math.max(column, row) < modules.size
      const isDark = isCode && modules.get(row, column) !== 0
      brightness[y * WIDTH + x] = isDark ? INK : isLabel ? PAPER : BENCH
    }
  }
  const colour = Buffer.alloc((WIDTH * HEIGHT) / 2, NO_COLOUR)
  const frame = Buffer.concat([Buffer.from('FRAME\n'), brightness, colour])
  const head = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`)
  fs.writeFileSync(file, Buffer.concat([head, ...Array<Buffer>(FRAMES).fill(frame)]))
}
