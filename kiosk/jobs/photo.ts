/** Pictures, made smaller by the browser and sent. */

/** The longer side that is kept, CSS pixels: a run or a nib is still seen. */
export const PHOTO_MOST_PX = 2_000
const QUALITY = 0.85

/** A picture's size when its longer side may be so long; a smaller one stays as it is. */
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
 * Draws a picture anew as JPEG: what the camera wrote beside it (place, person, device) is gone, and
 * it stands upright.
 * @throws where the file is no picture that this browser can read
 */
export async function reencoded(file: Blob): Promise<Blob> {
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
  return await new Promise((done, failed) => {
    const take = (blob: Blob | null) =>
      blob ? done(blob) : failed(new Error('The picture could not be written.'))
    canvas.toBlob(take, 'image/jpeg', QUALITY)
  })
}

/** `wrong`: the server says why, and would say so again. `away`: try again later. */
export type Posted =
  | { readonly is: 'kept'; readonly photo: string }
  | { readonly is: 'wrong'; readonly message: string }
  | { readonly is: 'away' }

const ANSWER_WITHIN_MS = 60_000

/** The browser's own fetch, as far as it is wanted here. */
type Fetch = (path: string, init: RequestInit) => Promise<Response>

/** Sends a picture to the server; never rejects. */
export async function postPhoto(fetcher: Fetch, blob: Blob): Promise<Posted> {
  try {
    const response = await fetcher('/api/photos', {
      method: 'POST',
      body: blob,
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    })
    const body = (await response.json()) as { photo?: string; error?: { message: string } }
    if (response.ok && body.photo) return { is: 'kept', photo: body.photo }
    if (body.error && response.status < 500) return { is: 'wrong', message: body.error.message }
    return { is: 'away' }
  } catch {
    return { is: 'away' }
  }
}
