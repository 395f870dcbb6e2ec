import { type Post, PrinterError } from './ippPrinter.ts'

/**
 * HTTP to a printer. Printers make their own certificates, which nobody vouches for: a person compares one's
 * fingerprint once, and from then on only the printer that has that certificate is spoken to.
 */

/** What Bun calls a certificate that nobody it knows has signed, or that is of another name. */
const UNKNOWN = [
  'DEPTH_ZERO_SELF_SIGNED_CERT',
  'SELF_SIGNED_CERT_IN_CHAIN',
  'UNABLE_TO_VERIFY_LEAF_SIGNATURE',
  'UNABLE_TO_GET_ISSUER_CERT_LOCALLY',
  'ERR_TLS_CERT_ALTNAME_INVALID',
]
const OTHER = 'a printer with another certificate'

export const netPost: Post = async (url, body, timeoutMs, fingerprint) => {
  const { protocol, hostname, port } = new URL(url)
  const at = { host: hostname.replace(/^\[|\]$/g, ''), port: Number(port) || 443, timeoutMs }
  const isSecret = protocol === 'https:'
  const tls = isSecret && fingerprint ? await pinned(fingerprint, at) : undefined
  let answer: Response
  try {
    answer = await fetch(url, {
      method: 'POST',
      headers: { 'Content-Type': 'application/ipp' },
      body: new Uint8Array(body),
      redirect: 'error',
      signal: AbortSignal.timeout(timeoutMs),
      ...(tls ? { tls } : {}),
    })
  } catch (error) {
    if (isSecret) throw await certificateTrouble(error, at, tls !== undefined)
    throw error
  }
  if (answer.status !== 200) throw new Error(`${url} answered ${answer.status}`)
  return new Uint8Array(await answer.arrayBuffer())
}

type At = { readonly host: string; readonly port: number; readonly timeoutMs: number }
type Certificate = { readonly fingerprint: string; readonly pem: string }

/**
 * The certificate that was trusted becomes the only authority of a request, so that a body goes to nobody else.
 * @throws PrinterError where another one is shown
 */
async function pinned(fingerprint: string, at: At) {
  const shown = await certificateAt(at)
  if (shown.fingerprint !== fingerprint) throw unknown(shown.fingerprint, true)
  return {
    ca: shown.pem,
    // Its name is the printer's own affair: the fingerprint says who it is.
    checkServerIdentity: (_host: string, { fingerprint256 }: { fingerprint256: string }) =>
      fingerprint256 === fingerprint ? undefined : new Error(OTHER),
  }
}

/** Who is shown at an address, whoever vouches for it. Nothing is sent there. */
async function certificateAt({ host, port, timeoutMs }: At): Promise<Certificate> {
  // With the first printer that is spoken to in secret: what comes with it takes a twentieth of a start.
  const { connect } = await import('node:tls')
  return await new Promise((resolve, reject) => {
    const socket = connect({ host, port, rejectUnauthorized: false }, () => {
      const { fingerprint256, raw } = socket.getPeerCertificate()
      socket.destroy()
      const lines = raw.toString('base64').replace(/.{1,64}/g, '$&\n')
      const pem = `-----BEGIN CERTIFICATE-----\n${lines}-----END CERTIFICATE-----\n`
      resolve({ fingerprint: fingerprint256, pem })
    })
    socket.setTimeout(timeoutMs, () => socket.destroy(new Error(`${host} does not answer`)))
    socket.on('error', reject)
  })
}

const unknown = (fingerprint: string, isOther: boolean) =>
  new PrinterError({ code: 'unknownCertificate', params: { fingerprint, isOther } })

async function certificateTrouble(error: unknown, at: At, isPinned: boolean): Promise<unknown> {
  const { code = '', message } = error as { code?: string; message: string }
  // Trusted, and still not signed by itself: trusting it again would help nobody.
  if (UNKNOWN.includes(code) && !isPinned)
    return unknown((await certificateAt(at)).fingerprint, false)
  if (message === OTHER) return unknown((await certificateAt(at)).fingerprint, true)
  if (/CERT/.test(code))
    return new PrinterError({ code: 'badCertificate', params: { reason: message } })
  return error
}
