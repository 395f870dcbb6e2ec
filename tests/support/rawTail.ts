import { connect, type Socket } from 'node:net'

/** A kiosk's tail on a socket of its own, so that it can stop reading and be cut as a network does it. */
export class RawTail {
  readonly #url: URL
  #socket: Socket | null = null
  #text = ''
  /** Bytes of the body that are still to come of the present chunk (RFC 9112, 7.1); null in the head. */
  #left: number | null = null
  #raw = ''
  /** Where it goes on after a cut: the id of the last entry. */
  #lastId: string | null
  /** Up to where it has every entry. */
  position: number
  connects = 0
  beats = 0
  /** What was not as it should be: a gap, an entry twice. */
  readonly wrong: string[] = []
  #isWanted = false

  /** @param from where it begins: behind this position */
  constructor(url: string, from: number) {
    this.#url = new URL(url)
    this.position = from
    this.#lastId = String(from)
  }

  open(): void {
    this.#isWanted = true
    this.#connect()
  }

  #connect(): void {
    const socket = connect(Number(this.#url.port), this.#url.hostname)
    this.#socket = socket
    this.#text = ''
    this.#raw = ''
    this.#left = null
    this.connects += 1
    socket.setNoDelay()
    socket.write(
      `GET /api/tail HTTP/1.1\r\nHost: ${this.#url.host}\r\nLast-Event-ID: ${this.#lastId}\r\n\r\n`,
    )
    socket.on('data', (bytes) => this.#read(bytes.toString('latin1')))
    socket.on('error', () => {})
    socket.on('close', () => {
      if (this.#socket !== socket) return
      this.#socket = null
      // As a browser: again after a while.
      if (this.#isWanted) setTimeout(() => this.#isWanted && !this.#socket && this.#connect(), 200)
    })
  }

  /** Opens it and takes nothing; it does not come again. */
  openStalled(): void {
    this.#connect()
    this.#socket?.pause()
  }

  /** Whether the server has ended its line; known once what came before that was taken. */
  get isLetGo(): boolean {
    return this.#socket === null
  }

  /** Takes nothing more from its socket, until it goes on. */
  stall(): void {
    this.#socket?.pause()
  }

  goOn(): void {
    this.#socket?.resume()
  }

  /** The line is cut; it comes again at once. */
  cut(): void {
    const socket = this.#socket
    this.#socket = null
    socket?.destroy()
    if (this.#isWanted) this.#connect()
  }

  close(): void {
    this.#isWanted = false
    this.#socket?.destroy()
    this.#socket = null
  }

  /** The body out of its chunks; a character a byte. */
  #read(bytes: string): void {
    this.#raw += bytes
    if (this.#left === null) {
      const head = this.#raw.indexOf('\r\n\r\n')
      if (head === -1) return
      this.#raw = this.#raw.slice(head + 4)
      this.#left = 0
    }
    for (;;) {
      if (this.#left === 0) {
        const size = /^(?:\r\n)?([0-9a-f]+)\r\n/i.exec(this.#raw)
        if (!size?.[1]) return
        this.#raw = this.#raw.slice(size[0].length)
        this.#left = Number.parseInt(size[1], 16)
        if (this.#left === 0) return
      }
      const part = this.#raw.slice(0, this.#left)
      if (part === '') return
      this.#raw = this.#raw.slice(part.length)
      this.#left -= part.length
      this.#take(part)
    }
  }

  #take(text: string): void {
    this.#text += text
    let from = 0
    for (;;) {
      const end = this.#text.indexOf('\n', from)
      if (end === -1) break
      this.#line(this.#text.slice(from, end))
      from = end + 1
    }
    this.#text = this.#text.slice(from)
  }

  #line(line: string): void {
    if (line.startsWith('event: beat')) this.beats += 1
    if (line.startsWith('event: reset')) this.wrong.push(`reset after ${this.#lastId}`)
    const id = /^id: ((\d+):[0-9a-f]{8})$/.exec(line)
    if (!id?.[1]) return
    const position = Number(id[2])
    if (position !== this.position + 1) this.wrong.push(`${position} after ${this.position}`)
    this.position = position
    this.#lastId = id[1]
  }
}
