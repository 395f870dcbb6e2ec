import { type WrongFields, wrongAt } from '../../machines/contract.ts'
import { limitedBody, saysItIsSmall } from '../guard.ts'
import type { Writer } from '../handle.ts'
import { jsonAnswer, jsonTextAnswer } from '../headers.ts'
import { jsonOf, only, type RouteDeps, type Routes, sayWrong } from '../http.ts'
import { type Answer, isUnstored } from '../problems.ts'
import { askedBy, sayFor } from '../say.ts'
import { nextPage, workTurn } from '../turn.ts'

/** The most commands of a list. A kiosk sends fifty. */
const LIST_MOST = 100
/** Kiosks of the first protocol knew no limit, and had what was pressed in a day away from the server. */
const OLD_LIST_MOST = 4_000
/** The most that are decided before others get their turn, and how many the first time. */
const PAGE_MOST = 25
const PAGE_FIRST = 4

const PATH = '/api/commands'

/** POST /api/commands: one command, or an array of them in order, each decided alone. */
export const commandsOf =
  ({ shops, clock }: Pick<RouteDeps, 'shops' | 'clock'>) =>
  async (request: Request): Promise<Response> => {
    const read = await jsonOf(request)
    if ('error' in read) return sayWrong(askedBy(request), read)
    const { handle } = shops.ownWriter
    if (Array.isArray(read.input)) {
      const tooLong = tooLongFor(read.input)
      if (tooLong) return sayWrong(askedBy(request), tooLong)
      const say = sayFor(askedBy(request), clock)
      const texts: string[] = []
      for await (const page of inPages(read.input, handle))
        texts.push(...page.map((answer) => JSON.stringify(say.answer(answer))))
      return jsonTextAnswer(`[${texts.join(',')}]`, 200)
    }
    const answer = await handle(read.input)
    // What is accepted needs no words.
    const { status, body } =
      answer.status === 200 ? answer : sayFor(askedBy(request), clock).answer(answer)
    return jsonAnswer(body, status)
  }

export const commandRoutes: Routes = (app, deps) => {
  const commands = commandsOf(deps)
  app.post(PATH, limitedBody)
  only(app, 'POST', PATH, (c) => commands(c.req.raw))
}

/** Whether a request holds commands as a kiosk sends them: anything odd goes by the routes. */
export const holdsCommands = (request: Request): boolean =>
  request.method === 'POST' &&
  request.url.slice(request.url.indexOf('/', 'http://'.length)) === PATH &&
  saysItIsSmall(request)

const namesProtocol = (command: unknown): boolean =>
  typeof command === 'object' && command !== null && 'protocol' in command

function tooLongFor(list: readonly unknown[]): WrongFields | null {
  const most = list.some(namesProtocol) ? LIST_MOST : OLD_LIST_MOST
  const count = list.length
  return count > most ? wrongAt('body', `${count} commands`, 'listTooLong', { most, count }) : null
}

/**
 * What became of the commands of a list, page by page. Those of a page are started in order and in one turn:
 * they are decided in order and share a commit. Where one is not stored, none behind it is: stored before
 * it they would stand in another order than they were pressed in.
 */
async function* inPages(
  list: readonly unknown[],
  handle: Writer['handle'],
): AsyncGenerator<readonly Answer[]> {
  let page = PAGE_FIRST
  let stopped: Answer | undefined
  for (let from = 0; from < list.length; ) {
    const start = performance.now()
    const some = list.slice(from, from + page)
    const answers = await Promise.all(some.map((command) => stopped ?? handle(command)))
    yield answers
    stopped ??= answers.find(isUnstored)
    from += some.length
    // What is said of days ago costs many times what is pressed now.
    page = nextPage(page, performance.now() - start, PAGE_MOST)
    await workTurn()
  }
}
