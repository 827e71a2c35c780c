/** Reads the code that stands before a camera; null while there is none. */
export type CodeReader = (video: HTMLVideoElement) => Promise<string | null>

/** What some browsers offer that read codes themselves. */
type Detector = { detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]> }
declare global {
  interface Window {
    BarcodeDetector?: {
      new (options: { formats: string[] }): Detector
      getSupportedFormats(): Promise<string[]>
    }
  }
}

/** Matrix codes first; a number that stands on a label as bars is read, too, where the browser can. */
const FORMATS = ['qr_code', 'data_matrix', 'code_128', 'code_39']
/** A code that fills a third of so many pixels is read; more of them take longer. */
const MOST_ACROSS = 640

let reader: Promise<CodeReader> | null = null

/** The browser's own reader where it has one, else a library's, which is fetched once. */
export function codeReader(): Promise<CodeReader> {
  reader ??= browsersReader().then((own) => own ?? librarysReader())
  reader.catch(() => {
    reader = null // it could not be fetched: the next time it is tried anew
  })
  return reader
}

async function browsersReader(): Promise<CodeReader | null> {
  const { BarcodeDetector } = window
  // On some machines the browser has the name and not the means.
  const formats = (await BarcodeDetector?.getSupportedFormats().catch(() => [])) ?? []
  if (!BarcodeDetector || !formats.includes('qr_code')) return null
  const detector = new BarcodeDetector({ formats: FORMATS.filter((format) => formats.includes(format)) })
  return async (video) => (await detector.detect(video))[0]?.rawValue ?? null
}

async function librarysReader(): Promise<CodeReader> {
  const { default: readCode } = await import('jsqr')
  const canvas = document.createElement('canvas')
  return async (video) => {
    const scale = Math.min(1, MOST_ACROSS / Math.max(video.videoWidth, video.videoHeight))
    const [width, height] = [video.videoWidth, video.videoHeight].map((side) => Math.round(side * scale))
    const picture = canvas.getContext('2d', { willReadFrequently: true })
    if (!picture || !width || !height) return null
    Object.assign(canvas, { width, height })
    picture.drawImage(video, 0, 0, width, height)
    const { data } = picture.getImageData(0, 0, width, height)
    return readCode(data, width, height, { inversionAttempts: 'dontInvert' })?.data ?? null
  }
}
