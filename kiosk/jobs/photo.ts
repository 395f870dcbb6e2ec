import { sha256 } from '@noble/hashes/sha2'
import { bytesToHex } from '@noble/hashes/utils'
import type { Picture } from '../commands/picture.ts'

/** Pictures, made smaller by the browser and named. */

/**
 * The name of a picture, here as on the server: the SHA-256 of its bytes in lower-case hex. The
 * browser's own works in secure contexts only, and a kiosk may have its server by plain http.
 */
export const nameOf = (bytes: Picture): string => bytesToHex(sha256(bytes))

/** The longer side that is kept, CSS pixels: a run or a nib is still seen. */
const PHOTO_MOST_PX = 2_000
const PHOTO_TYPE = 'image/jpeg'
const QUALITY = 0.85

/** A picture's size when its longer side is limited; a smaller one stays as it is. */
export function fitted(
  width: number,
  height: number,
  mostPx: number = PHOTO_MOST_PX,
): { readonly width: number; readonly height: number } {
  const share = Math.min(1, mostPx / Math.max(width, height))
  return {
    width: Math.max(1, Math.round(width * share)),
    height: Math.max(1, Math.round(height * share)),
  }
}

/**
 * Redraws a picture as JPEG: what the camera wrote beside it (place, person, device) is gone, and
 * it stands upright.
 * @throws where this browser cannot read the file as a picture
 */
export async function reencoded(file: Blob): Promise<Picture> {
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' })
  const { width, height } = fitted(bitmap.width, bitmap.height)
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const pen = canvas.getContext('2d')
  if (pen === null) throw new Error('This browser cannot draw.')
  // JPEG has no transparency: what was clear would turn black.
  pen.fillStyle = '#ffffff'
  pen.fillRect(0, 0, width, height)
  pen.drawImage(bitmap, 0, 0, width, height)
  bitmap.close()
  const blob = await new Promise<Blob>((done, failed) => {
    const take = (blob: Blob | null) =>
      blob ? done(blob) : failed(new Error('The picture could not be written.'))
    canvas.toBlob(take, PHOTO_TYPE, QUALITY)
  })
  return new Uint8Array(await blob.arrayBuffer())
}
