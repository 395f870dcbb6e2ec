/** A client of server-sent events (WHATWG HTML, "Server-sent events"), as raw as curl. */

export type Message = {
  readonly event: string
  readonly id: string | null
  readonly data: unknown
}

export class TailClient {
  readonly #reader: ReadableStreamDefaultReader<Uint8Array>
  readonly #decoder = new TextDecoder()
  #text = ''
  /** Everything read until now. */
  readonly messages: Message[] = []

  constructor(body: ReadableStream<Uint8Array>) {
    this.#reader = body.getReader()
  }

  static async open(url: string, lastEventId?: string): Promise<TailClient> {
    const headers = lastEventId === undefined ? {} : { 'Last-Event-ID': lastEventId }
    const response = await fetch(url, { headers })
    if (response.status !== 200 || !response.body) throw new Error(`status ${response.status}`)
    return new TailClient(response.body)
  }

  /** The next message; null when the stream has ended. */
  async next(): Promise<Message | null> {
    for (;;) {
      const end = this.#text.indexOf('\n\n')
      if (end !== -1) {
        const block = this.#text.slice(0, end)
        this.#text = this.#text.slice(end + 2)
        const message = messageOf(block)
        this.messages.push(message)
        return message
      }
      const { done, value } = await this.#reader.read()
      if (done) return null
      this.#text += this.#decoder.decode(value, { stream: true })
    }
  }

  /** Reads on to the first message that fits. */
  async until(fits: (message: Message) => boolean): Promise<Message> {
    for (;;) {
      const message = await this.next()
      if (!message) throw new Error('the stream ended')
      if (fits(message)) return message
    }
  }

  /** The entries read until now, by id of the message. */
  get entries(): Message[] {
    return this.messages.filter((m) => m.event === 'message')
  }

  close(): Promise<void> {
    return this.#reader.cancel()
  }
}

function messageOf(block: string): Message {
  const found = new Map<string, string>()
  for (const line of block.split('\n')) {
    const colon = line.indexOf(': ')
    found.set(line.slice(0, colon), line.slice(colon + 2))
  }
  return {
    event: found.get('event') ?? 'message',
    id: found.get('id') ?? null,
    data: JSON.parse(found.get('data') ?? 'null'),
  }
}
