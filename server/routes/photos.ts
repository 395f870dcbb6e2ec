import { bodyLimit } from 'hono/body-limit'
import { wrongAt } from '../../machines/contract.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { PHOTO_MOST_BYTES, photosIn } from '../photos.ts'
import { problem, tooLarge } from '../problems.ts'
import { sayFor } from '../say.ts'

const limitedPhoto = bodyLimit({
  maxSize: PHOTO_MOST_BYTES,
  onError: (c) => {
    const { status, body } = tooLarge('pictureSize', PHOTO_MOST_BYTES)
    return c.json(sayFor(c).fields(body), status)
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
        return sayProblem(c, problem('photoNotStored', {}))
      }
      const given = bytes.length === 0 ? undefined : `${bytes.length} bytes`
      return sayWrong(c, wrongAt('body', given, 'picture', {}))
    })

    only(app, 'GET', '/api/photos/:photo', async (c) => {
      const photo = c.req.param('photo') ?? ''
      const found = await photos.find(photo)
      if (found === null) {
        return sayProblem(c, problem('notFound', { what: 'photo', name: photo }))
      }
      return c.body(Uint8Array.from(found.bytes), 200, {
        'Content-Type': found.type,
        // Its name is its content.
        'Cache-Control': 'private, max-age=31536000, immutable',
      })
    })
  }
