import type { Routes } from '../http.ts'
import type { Fetch } from '../listen.ts'
import { problem } from '../problems.ts'
import { practiceAgain } from '../routes/practice.ts'
import { inEnglish } from '../say.ts'
import { type Listening, type Running, type ServeDeps, startServer } from '../serve.ts'
import type { ComputerClock } from '../time/timekeeper.ts'
import { freshFolder } from './folder.ts'
import { layOut, PRACTICE_SPEED, practiceClock } from './practice.ts'

/** The practice shop as a server of its own beside, or instead of, the shop's. */
export type PracticeShop = {
  /**
   * Starts it on its invented morning; where it runs already, it is left as it is.
   * @throws Usable where its port or folder cannot be used
   */
  readonly open: () => Promise<{ readonly url: string }>
  readonly stop: () => Promise<void>
}

export type PracticeDeps = Omit<ServeDeps, 'more' | 'clock'> & {
  readonly computer: ComputerClock
  /** What it answers besides the API, asked for at every morning. */
  readonly more: () => readonly Routes[]
}

type Settings = { readonly port: number; readonly data: string }

/** Between two mornings: asked again in a moment, it answers. */
const laidOutAnew = (): Response => {
  const { status, body } = problem('stopping', {})
  return Response.json({ error: inEnglish(0).error(body.error) }, { status })
}

/** Nothing is opened before it is asked for. */
export function practiceShop(settings: Settings, deps: PracticeDeps): PracticeShop {
  let opened: Promise<Opened> | null = null
  return {
    open() {
      opened ??= open(settings, deps).catch((error) => {
        opened = null
        throw error
      })
      return opened
    },
    async stop() {
      const last = await opened?.catch(() => null)
      await last?.stop()
    },
  }
}

type Opened = { readonly url: string; readonly stop: () => Promise<void> }

/** One port for as many mornings as are asked for: only what answers behind it is exchanged. */
async function open(settings: Settings, deps: PracticeDeps): Promise<Opened> {
  let answer: Fetch = laidOutAnew
  let running: Running | null = null
  let turn: Promise<void> = Promise.resolve()
  // The port first: where another practice shop runs, its folder is not touched.
  const port = deps.listen(settings.port, (request, env) => answer(request, env))
  const end = async () => {
    answer = laidOutAnew
    await running?.stop()
    running = null
  }
  const begin = async () => {
    await end()
    const more = [...deps.more(), practiceAgain(again)]
    const begun = await morning(settings, { ...deps, more }, port)
    answer = (request, env) => begun.app.fetch(request, env)
    running = begun
  }
  const again = (): Promise<void> => {
    turn = turn.catch(() => {}).then(begin)
    return turn
  }
  try {
    await again()
  } catch (error) {
    await port.stop()
    throw error
  }
  return {
    url: port.url,
    async stop() {
      await turn.catch(() => {})
      await end()
      await port.stop()
    },
  }
}

/** A new folder, a new log, the same morning, which ends now. */
async function morning(
  settings: Settings,
  deps: Omit<ServeDeps, 'clock'> & Pick<PracticeDeps, 'computer'>,
  { url }: Listening,
): Promise<Running> {
  freshFolder(settings.data)
  const clock = practiceClock(deps.computer, PRACTICE_SPEED)
  // The port stays open, and a request for another morning waits until this one is ready.
  const listen = () => ({ url, pending: () => 0, stop: async () => {} })
  const running = await startServer(settings, { ...deps, clock: () => clock, listen })
  await layOut(running.shops.ownWriter, clock)
  return running
}
