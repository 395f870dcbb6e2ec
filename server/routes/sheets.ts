import { check } from '../../machines/accept.ts'
import { previewOf, sheetFileOf, sheetFileSchema } from '../../machines/sheet/file.ts'
import { limitedBody } from '../guard.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'

/**
 * GET /api/sheets: the shop's sheets as a file, which the command ImportSheets takes. POST
 * /api/sheets/preview with such a file: what an import of it would do, without doing it.
 * GET /api/sheets/schema: the JSON Schema of such a file.
 */
export const sheetRoutes: Routes = (app, { shops }) => {
  const { ownWriter } = shops
  only(app, 'GET', '/api/sheets', (c) => {
    c.header('Content-Disposition', 'attachment; filename="flashbell-sheets.json"')
    return c.json(sheetFileOf(ownWriter.state()))
  })
  only(app, 'GET', '/api/sheets/schema', async (c) => {
    const { sheetJsonSchema } = await import('../sheetJsonSchema.ts')
    return c.json(sheetJsonSchema(), 200, { 'Content-Type': 'application/schema+json' })
  })
  app.post('/api/sheets/preview', limitedBody)
  only(app, 'POST', '/api/sheets/preview', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const file = check(sheetFileSchema, read.input, 'file')
    if (!file.ok) return sayWrong(c, file)
    return c.json({ sheets: previewOf(ownWriter.state(), file.value.sheets) })
  })
}
