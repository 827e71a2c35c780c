import { type Canvas, createCanvas } from '@napi-rs/canvas'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** A page of a PDF: its text as a reader finds it, and its picture, with how much of it is ink. */
export type PdfPage = {
  text: string
  picture: Buffer
  inked: number
  margins: { right: number; bottom: number }
}

const SCALE = 1.5

/** Reads a PDF back with a program that had no part in making it. */
export async function readPdf(pdf: Uint8Array): Promise<PdfPage[]> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise
  const pages: PdfPage[] = []
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number)
    const { items } = await page.getTextContent()
    const text = items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join('')
    const viewport = page.getViewport({ scale: SCALE })
    const canvas = createCanvas(viewport.width, viewport.height)
    // The reader's types know the canvas of a browser alone; this one has what it draws with.
    await page.render({ canvas: canvas as unknown as HTMLCanvasElement, viewport }).promise
    pages.push({ text: text.replace(/\s+/g, ' '), picture: canvas.toBuffer('image/png'), ...inkOf(canvas) })
  }
  await document.destroy()
  return pages
}

const DARK = 200

/** How many points are dark, and how far the dark ones stay from the right and lower edge, as a share of it. */
function inkOf(canvas: Canvas): Pick<PdfPage, 'inked' | 'margins'> {
  const { width, height } = canvas
  const { data } = canvas.getContext('2d').getImageData(0, 0, width, height)
  let [inked, right, bottom] = [0, 0, 0]
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (data[(y * width + x) * 4]! < DARK) {
        inked++
        right = Math.max(right, x)
        bottom = y
      }
  return { inked, margins: { right: 1 - right / width, bottom: 1 - bottom / height } }
}
