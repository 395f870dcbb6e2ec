import { bodyLimit } from 'hono/body-limit'
import { only, type Routes, sayWrong } from '../http.ts'
import { PHOTO_MOST_BYTES, photosIn } from '../photos.ts'
import { problem, tooLarge } from '../problems.ts'

const limitedPhoto = bodyLimit({
  maxSize: PHOTO_MOST_BYTES,
  onError: (c) => {
    const { status, body } = tooLarge(
      `The picture was larger; accepted are up to 10 MB (${PHOTO_MOST_BYTES} bytes).`,
    )
    return c.json(body, status)
  },
})

/**
 * POST /api/photos keeps a picture and answers {photo}, the name that AddPhoto puts into the log;
 * GET /api/photos/:photo hands it out.
 * @param folder where the pictures lie, beside the log
 */
export const photoRoutes =
  (folder: string): Routes =>
  (app, { report }) => {
    const photos = photosIn(folder)

    app.post('/api/photos', limitedPhoto)
    only(app, 'POST', '/api/photos', async (c) => {
      const bytes = new Uint8Array(await c.req.arrayBuffer())
      try {
        const photo = await photos.keep(bytes)
        if (photo !== null) return c.json({ photo })
      } catch (error) {
        report(error)
        const { status, body } = problem(
          'notStored',
          'The picture could not be written; send it again. Is the disk full?',
        )
        return c.json(body, status)
      }
      const what = bytes.length === 0 ? 'empty' : `${bytes.length} bytes that are no picture`
      const message = `The body was ${what}; accepted is a JPEG, PNG or WebP picture.`
      return sayWrong(c, { field: 'body', message })
    })

    only(app, 'GET', '/api/photos/:photo', async (c) => {
      const photo = c.req.param('photo') ?? ''
      const found = await photos.find(photo)
      if (found === null) {
        const { status, body } = problem('notFound', `No picture ${photo} is kept here.`)
        return c.json(body, status)
      }
      return c.body(Uint8Array.from(found.bytes), 200, {
        'Content-Type': found.type,
        // Its name is its content.
        'Cache-Control': 'private, max-age=31536000, immutable',
      })
    })
  }
