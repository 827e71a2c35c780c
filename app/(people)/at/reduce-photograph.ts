import { LARGEST_PHOTOGRAPH, LONGEST_SIDE } from '@/lib/records/photograph'

/** Tried one after another until it is small enough. */
const QUALITIES = [0.82, 0.65, 0.45]

/**
 * Makes a camera's picture small enough to be sent where reception is poor: a JPEG of at most 1600 pixels, without what
 * the camera writes beside it (place, device).
 *
 * @returns null for what this browser cannot show as a picture
 */
export async function reducedPhotograph(file: Blob): Promise<Blob | null> {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => null)
  if (picture === null) return null
  const share = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(picture.width * share))
  canvas.height = Math.max(1, Math.round(picture.height * share))
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height)
  picture.close()
  for (const quality of QUALITIES) {
    const made = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', quality))
    if (made && made.size <= LARGEST_PHOTOGRAPH) return made
  }
  return null
}

/** A picture as an address that holds it, as our pages may show one. */
export function asDataAddress(picture: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader()
    reader.onload = () => resolve(String(reader.result))
    reader.onerror = () => reject(reader.error)
    reader.readAsDataURL(picture)
  })
}
