import type { Context } from 'hono'
import * as v from 'valibot'
import { check, fields } from '../../machines/accept.ts'
import {
  certificateFingerprint,
  type PrintTrouble,
  printerAddress,
  printingSchema,
  printSchema,
} from '../../machines/contract/printing.ts'
import { es } from '../../machines/words/es.ts'
import { printTroubleText } from '../../machines/words/printing.ts'
import { type Env, jsonOf, only, type Routes, sayWrong } from '../http.ts'
import { PrinterError } from '../printing/ippPrinter.ts'
import { wordsFor } from '../say.ts'

const askSchema = fields({
  address: printerAddress,
  fingerprint: v.optional(certificateFingerprint),
})

/**
 * GET /api/printing: the printers, how they stand, what waits for them. POST /api/printing/set changes the
 * printers, /api/printing/ask {address, fingerprint?} asks one about itself, /api/printing/try tries again now what
 * waits. POST /api/print {id, kind, thing, printer?} prints.
 */
export const printingRoutes: Routes = (app, { printing }) => {
  if (!printing) return

  const sayTrouble = (c: Context<Env>, trouble: PrintTrouble) => {
    const message = printTroubleText(trouble, wordsFor(c) === es ? 'es' : 'en')
    return c.json({ error: { ...trouble, message } }, trouble.code === 'unknownThing' ? 404 : 409)
  }

  only(app, 'GET', '/api/printing', (c) => c.json(printing.answer()))

  only(app, 'POST', '/api/printing/set', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const asked = check(printingSchema, read.input)
    if (!asked.ok) return sayWrong(c, asked)
    await printing.set(asked.value)
    return c.json(printing.answer())
  })

  only(app, 'POST', '/api/printing/ask', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const asked = check(askSchema, read.input)
    if (!asked.ok) return sayWrong(c, asked)
    try {
      return c.json(await printing.ask(asked.value))
    } catch (error) {
      if (!(error instanceof PrinterError)) throw error
      return sayTrouble(c, error.trouble)
    }
  })

  only(app, 'POST', '/api/printing/try', (c) => {
    printing.tryNow()
    return c.json(printing.answer())
  })

  only(app, 'POST', '/api/print', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const asked = check(printSchema, read.input)
    if (!asked.ok) return sayWrong(c, asked)
    const job = await printing.print(asked.value)
    return 'code' in job ? sayTrouble(c, job) : c.json({ job })
  })
}
