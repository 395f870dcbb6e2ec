/** A client on a bare socket that is kept open: the same for ours and for the limit, and cheap to both. */
export type Client = {
  readonly post: (path: string, body: string) => Promise<Answer>
  readonly close: () => void
}

type Answer = { readonly status: number; readonly body: string }

const HEAD_END = '\r\n\r\n'

/** @param url of a server that answers with a Content-Length; one request at a time */
export async function connect(url: string): Promise<Client> {
  const { hostname, port } = new URL(url)
  let got = Buffer.alloc(0)
  let answer: ((answer: Answer) => void) | null = null
  const take = () => {
    const end = got.indexOf(HEAD_END)
    if (end < 0 || answer === null) return
    const head = got.subarray(0, end).toString('latin1')
    const length = Number(/content-length: (\d+)/i.exec(head)?.[1] ?? 0)
    const from = end + HEAD_END.length
    if (got.length < from + length) return
    const body = got.subarray(from, from + length).toString()
    got = got.subarray(from + length)
    const done = answer
    answer = null
    done({ status: Number(head.slice('HTTP/1.1 '.length).slice(0, 3)), body })
  }
  const socket = await Bun.connect({
    hostname,
    port: Number(port),
    socket: {
      data(_socket, data) {
        got = got.length === 0 ? Buffer.from(data) : Buffer.concat([got, data])
        take()
      },
    },
  })
  socket.setNoDelay(true)
  return {
    post: (path, body) =>
      new Promise((done) => {
        answer = done
        const head = [
          `POST ${path} HTTP/1.1`,
          `Host: ${hostname}:${port}`,
          'Content-Type: application/json',
          `Content-Length: ${Buffer.byteLength(body)}`,
        ]
        socket.write(`${head.join('\r\n')}${HEAD_END}${body}`)
      }),
    close: () => socket.end(),
  }
}
