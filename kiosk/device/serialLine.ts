import { readWeight } from './weight.ts'

/**
 * A scale on a serial line, through the browser's Web Serial where it has that. What comes is read
 * as lines of text; which scales send such lines is for the shop to try.
 */

type SerialPort = {
  readonly readable: ReadableStream<Uint8Array> | null
  readonly open: (options: { baudRate: number }) => Promise<void>
  readonly close: () => Promise<void>
}
type Serial = { readonly requestPort: () => Promise<SerialPort> }

export const BAUDS = [2400, 4800, 9600, 19200] as const

const serialOf = (browser: Navigator): Serial | null =>
  'serial' in browser ? (browser.serial as Serial) : null

/** Whether this browser can speak to a serial scale at all; otherwise none is offered. */
export const hasSerial = (browser: Navigator): boolean => serialOf(browser) !== null

export type Connection = { readonly stop: () => Promise<void> }

/**
 * Asks the painter for the port and reads it until stopped.
 * @param onWeight grams, with every line that is a weight
 * @param onLost when the line breaks by itself
 * @returns null when no port was chosen, or it could not be opened
 */
export async function connectScale(
  browser: Navigator,
  baudRate: number,
  onWeight: (g: number) => void,
  onLost: () => void,
): Promise<Connection | null> {
  try {
    const port = await serialOf(browser)?.requestPort()
    if (!port) return null
    await port.open({ baudRate })
    const reader = port.readable?.getReader()
    if (!reader) return null
    let isStopped = false
    const run = async () => {
      const decoder = new TextDecoder()
      let rest = ''
      for (;;) {
        const { value, done } = await reader.read()
        if (done) break
        const read = linesOf(rest + decoder.decode(value, { stream: true }))
        rest = read.rest.slice(-200)
        for (const line of read.lines) {
          const weight = readWeight(line)
          if (weight.kind === 'weight') onWeight(weight.g)
        }
      }
    }
    const lost = () => {
      if (!isStopped) onLost()
    }
    void run().then(lost, lost)
    return {
      stop: async () => {
        isStopped = true
        await reader.cancel()
        reader.releaseLock()
        await port.close()
      },
    }
  } catch {
    return null
  }
}

/** Whole lines of what came from a scale, and the rest that has no end yet. */
export function linesOf(text: string): {
  readonly lines: readonly string[]
  readonly rest: string
} {
  const pieces = text.split(/[\r\n]+/)
  const rest = pieces.at(-1) ?? ''
  return { lines: pieces.slice(0, -1).filter((line) => line.trim() !== ''), rest }
}
