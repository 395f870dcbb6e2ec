import type {
  PrintAsk,
  Printer,
  PrinterAbout,
  PrintingAnswer,
  PrintingSettings,
  PrintJob,
  PrintTrouble,
} from '../../machines/contract/printing.ts'

/** The shop's printers, as the server reaches them. */

export type Told<T> =
  | { readonly kind: 'told'; readonly answer: T }
  /** Nothing is printed from this server, as in a practice shop. */
  | { readonly kind: 'none' }
  /** `error`: null where the server does not answer. */
  | { readonly kind: 'not'; readonly error: PrintError | null }

/** A trouble of a printer in words, or a wrong field. */
export type PrintError = (
  | PrintTrouble
  | { readonly code: 'wrongField'; readonly field: string }
) & {
  readonly message: string
}

async function asked<T>(path: string, locale: string, body?: object): Promise<Told<T>> {
  const headers = { 'content-type': 'application/json', 'accept-language': locale }
  const init: RequestInit = body
    ? { method: 'POST', headers, body: JSON.stringify(body) }
    : { cache: 'no-store', headers }
  try {
    const response = await fetch(path, init)
    const answer = (await response.json()) as T & { error?: PrintError }
    if (response.ok) return { kind: 'told', answer }
    if (response.status === 404 && !body) return { kind: 'none' }
    return { kind: 'not', error: answer.error ?? null }
  } catch {
    return { kind: 'not', error: null }
  }
}

export const printing = (locale: string) => asked<PrintingAnswer>('/api/printing', locale)
export const setPrinting = (settings: PrintingSettings, locale: string) =>
  asked<PrintingAnswer>('/api/printing/set', locale, settings)
export const askPrinter = (at: Pick<Printer, 'address' | 'fingerprint'>, locale: string) =>
  asked<PrinterAbout>('/api/printing/ask', locale, at)
export const print = (ask: PrintAsk, locale: string) =>
  asked<{ readonly job: PrintJob }>('/api/print', locale, ask)
