import { rawStore } from './rawCommits.ts'

/**
 * The limit of HTTP, in a process of its own: Bun.serve alone, the body parsed, one durable row, a short answer.
 * Arguments: a folder for its rows; `single` for a commit a request, `group` for one of all that came in one turn.
 */

const [, , folder = '', mode = 'single'] = process.argv
const raw = rawStore(folder, `bare-${mode}.db`)
/** About as much as an entry holds beside its command. */
const REST = 'x'.repeat(330)

let waiting: { readonly text: string; readonly done: () => void }[] = []
function commitWaiting(): void {
  const group = waiting
  waiting = []
  raw.commit(group.map(({ text }) => text))
  for (const { done } of group) done()
}

const server = Bun.serve({
  hostname: '127.0.0.1',
  port: 0,
  development: false,
  async fetch(request) {
    const command: unknown = await request.json()
    const text = JSON.stringify({ command, rest: REST })
    if (mode === 'single') raw.commit([text])
    else
      await new Promise<void>((done) => {
        waiting.push({ text, done })
        if (waiting.length === 1) setImmediate(commitWaiting)
      })
    return new Response(text, { headers: { 'Content-Type': 'application/json' } })
  },
})
process.stdout.write(`${server.url.href}\n`)
