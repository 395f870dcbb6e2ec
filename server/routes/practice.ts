import { StartError } from '../data.ts'
import { only, type Routes, sayProblem } from '../http.ts'
import { problem } from '../problems.ts'

/**
 * The way from a shop to the practice shop: starts it where it does not run.
 * @param open answers where it is, on this computer
 */
export const practiceRoute =
  (open: () => Promise<{ readonly url: string }>): Routes =>
  (app) =>
    only(app, 'POST', '/api/practice', async (c) => {
      try {
        // By the name that the page was asked for under, which the browser knows to be this computer.
        const url = new URL('/', c.req.url)
        url.port = new URL((await open()).url).port
        return c.json({ url: url.href })
      } catch (error) {
        if (!(error instanceof StartError)) throw error
        return sayProblem(c, problem('notStarted', { trouble: error.trouble }))
      }
    })

/** Only a practice shop has this: everything practiced is dropped, and its morning starts over. */
export const practiceAgain =
  (again: () => Promise<void>): Routes =>
  (app) =>
    only(app, 'POST', '/api/practice/again', async (c) => {
      await again()
      return c.json({})
    })
