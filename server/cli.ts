import { type WrongFields, wrongAt } from '../machines/contract/wrongField.ts'
import type { CopyName } from './backup/cli.ts'
import { type Asked, extra, isPort, readArgs } from './cliArgs.ts'
import { hasLog, Usable } from './data.ts'
import { listIn, parsed } from './jsonFile.ts'
import { LogError } from './log/log.ts'
import type { AskedServer } from './printCli.ts'
import { inEnglish } from './say.ts'
import { USAGE } from './usage.ts'

/** What the command line reaches of the world. */
export type Io = {
  readonly env: Readonly<Record<string, string | undefined>>
  readonly stdin: () => Promise<string>
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  readonly version: string
  /** UTC ms, by the computer's own clock. */
  readonly now: () => number
  /** A server on this computer, asked over HTTP. */
  readonly server: (port: number) => AskedServer
  /** Serves until it is stopped; the exit code. */
  readonly serve: (settings: ServeSettings) => Promise<number>
}

export type ServeSettings = {
  readonly port: number
  readonly data: string
  /** Where the built kiosk is kept; beside the log without it. */
  readonly cache?: string
  /** Where the practice shop is served when it is asked for. */
  readonly practicePort: number
  /** The practice shop alone: an invented morning, ten times as fast. */
  readonly isPractice?: boolean
}

/**
 * Exit codes: 0 done, 1 it could not be done or is not well, 2 it was asked for wrongly, 3 the log is
 * whole and something that belongs to it is lost.
 */
type Code = number
const WARNED = 3

const PORT = 4600
/** Another port is another origin: what a browser keeps of the practice never meets the shop's. */
const PRACTICE_PORT = 4610
/** A folder of its own: nothing practiced comes into the shop's log. */
const PRACTICE_DATA = 'data/practice'

/** Runs one command. @returns the exit code */
export async function run(args: readonly string[], io: Io): Promise<Code> {
  const asked = readArgs(args)
  if ('wrong' in asked) return wrongly(io, asked.wrong)
  const [name, ...rest] = asked.words
  try {
    return await command(name, { ...asked, words: rest }, io)
  } catch (error) {
    if (!(error instanceof Usable) && !(error instanceof LogError)) throw error
    io.err(`${error.message}\n`)
    return 1
  }
}

async function command(name: string | undefined, asked: Asked, io: Io): Promise<Code> {
  switch (name) {
    case 'serve':
      return await serve(asked, io)
    case 'practice':
      return await serve({ ...asked, data: asked.data ?? PRACTICE_DATA }, io, true)
    case 'verify':
      return await verify(asked, io)
    case 'backup':
    case 'restore':
    case 'export':
    case 'import':
      return await copy(name, asked, io)
    case 'calc':
      return await calc(asked, io)
    case 'rehearse':
      return await rehearseFile(asked, io)
    case 'forecast':
      return await forecast(asked, io)
    case 'print':
      return await print(asked, io)
    case 'sheets':
      return await sheets(asked, io)
    case 'help':
      io.out(USAGE)
      return 0
    case 'version':
      io.out(`${io.version}\n`)
      return 0
    case undefined:
      return wrongly(io, 'No command was given.')
    default:
      return wrongly(io, `There is no command ${name}.`)
  }
}

function wrongly(io: Io, sentence: string): Code {
  io.err(`${sentence}\n\n${USAGE}`)
  return 2
}

const dataOf = (asked: Asked, io: Io): string => asked.data ?? io.env.FLASHBELL_DATA ?? 'data'

async function serve(asked: Asked, io: Io, isPractice = false): Promise<Code> {
  const tooMany = extra(asked.words, 0)
  if (tooMany) return wrongly(io, tooMany)
  const practice = io.env.FLASHBELL_PRACTICE_PORT ?? String(PRACTICE_PORT)
  const usual = isPractice ? practice : (io.env.FLASHBELL_PORT ?? String(PORT))
  const ports = [asked.port ?? usual, practice]
  const wrong = ports.find((given) => !isPort(given))
  if (wrong !== undefined)
    return wrongly(io, `--port: ${wrong} won't work. Use a whole number from 0 to 65535.`)
  const [port, practicePort] = ports.map(Number) as [number, number]
  const cache = io.env.FLASHBELL_CACHE
  return await io.serve({
    port,
    practicePort,
    data: dataOf(asked, io),
    ...(cache ? { cache } : {}),
    ...(isPractice ? { isPractice } : {}),
  })
}

async function verify(asked: Asked, io: Io): Promise<Code> {
  const tooMany = extra(asked.words, 0)
  if (tooMany) return wrongly(io, tooMany)
  const data = dataOf(asked, io)
  // Opening would make an empty log, and that verifies.
  if (!hasLog(data)) throw new Usable(`There is no log in ${data}. Name its folder with --data.`)
  const { verifyFolder } = await import('./verifyLog.ts')
  const verdict = await verifyFolder(data)
  io.out(`${JSON.stringify(inEnglish(io.now()).verdict(verdict))}\n`)
  if (!verdict.ok) return 1
  return verdict.warnings ? WARNED : 0
}

const COPY_WANTS: Readonly<Record<CopyName, string>> = {
  backup: 'a folder for the backups',
  restore: 'a backup',
  export: 'the name of a new file',
  import: 'a file that export has written',
}

/** Commands that copy a shop as a whole. */
async function copy(name: CopyName, asked: Asked, io: Io): Promise<Code> {
  const [word, ...rest] = asked.words
  const tooMany = extra(rest, 0)
  if (word === undefined) return wrongly(io, `${name} wants ${COPY_WANTS[name]}.`)
  if (tooMany) return wrongly(io, tooMany)
  if (asked.job !== undefined) {
    if (name !== 'export') return wrongly(io, `--job belongs to export, not to ${name}.`)
    const { exportJob } = await import('./jobExport/cli.ts')
    const cache = io.env.FLASHBELL_CACHE ?? ''
    const options = { job: asked.job, file: word, data: dataOf(asked, io), cache }
    io.out(`${JSON.stringify(await exportJob(options, io.now()))}\n`)
    return 0
  }
  const { COPY_COMMANDS } = await import('./backup/cli.ts')
  const { keep, replace, progress } = asked
  const options = { word, data: dataOf(asked, io), keep, replace, progress }
  const ended = await COPY_COMMANDS[name](options, io)
  return typeof ended === 'number' ? ended : wrongly(io, ended.wrong)
}

async function calc(asked: Asked, io: Io): Promise<Code> {
  const [name, ...rest] = asked.words
  const tooMany = extra(rest, 0)
  if (name === undefined) return wrongly(io, 'calc wants the name of a calculation.')
  if (tooMany) return wrongly(io, tooMany)
  const { calculate } = await import('../machines/trade/registry.ts')
  const text = await io.stdin()
  const read = parsed(text)
  const done = read
    ? calculate(name, read.input)
    : ({ ok: false, ...wrongAt('body', text === '' ? undefined : text, 'json', {}) } as const)
  if (done.ok) io.out(`${JSON.stringify(done.value)}\n`)
  else io.err(`${JSON.stringify(wrongOf(done))}\n`)
  return done.ok ? 0 : 2
}

/** The wrong field with its sentence; all of them too where there are several. */
function wrongOf(found: WrongFields) {
  const { error, errors } = inEnglish(0).fields(found)
  return errors.length > 1 ? { error, errors } : { error }
}

async function rehearseFile(asked: Asked, io: Io): Promise<Code> {
  const [file, ...rest] = asked.words
  const tooMany = extra(rest, 0)
  if (file === undefined) return wrongly(io, 'rehearse wants the name of a file.')
  if (tooMany) return wrongly(io, tooMany)
  const list = listIn(file)
  if (typeof list === 'string') {
    io.err(`${list}\n`)
    return 2
  }
  const { rehearse } = await import('./rehearse.ts')
  for (const line of rehearse(list)) io.out(`${JSON.stringify(line)}\n`)
  return 0
}

async function print(asked: Asked, io: Io): Promise<Code> {
  const [kind, thing, ...rest] = asked.words
  const tooMany = extra(rest, 0)
  if (tooMany) return wrongly(io, tooMany)
  const port = asked.port ?? io.env.FLASHBELL_PORT ?? String(PORT)
  if (!isPort(port))
    return wrongly(io, `--port: ${port} won't work. Use a whole number from 0 to 65535.`)
  const { printOverServer } = await import('./printCli.ts')
  const { printer, lot, why } = asked
  const ended = await printOverServer({ kind, thing, printer, lot, why }, io.server(Number(port)))
  if ('wrong' in ended) return wrongly(io, ended.wrong)
  if (ended.out) io.out(`${JSON.stringify(ended.out)}\n`)
  if (ended.err) io.err(`${ended.err}\n`)
  return ended.code
}

/** Of the shop's log; with a file, of the shop at the end of that rehearsal. */
async function forecast(asked: Asked, io: Io): Promise<Code> {
  const [file, ...rest] = asked.words
  const tooMany = extra(rest, 0)
  if (tooMany) return wrongly(io, tooMany)
  if (file !== undefined && asked.data !== undefined)
    return wrongly(io, 'forecast takes a file or --data, not both.')
  return file === undefined ? await forecastLog(asked, io) : await forecastFile(file, io)
}

async function forecastLog(asked: Asked, io: Io): Promise<Code> {
  const data = dataOf(asked, io)
  if (!hasLog(data)) throw new Usable(`There is no log in ${data}. Name its folder with --data.`)
  const { forecastOfFolder } = await import('./forecastOut.ts')
  io.out(`${JSON.stringify(await forecastOfFolder(data, io.now()))}\n`)
  return 0
}

/** Lines that were not accepted are said on standard error: the forecast is of the others. */
async function forecastFile(file: string, io: Io): Promise<Code> {
  const list = listIn(file)
  if (typeof list === 'string') {
    io.err(`${list}\n`)
    return 2
  }
  const { rehearsed } = await import('./rehearse.ts')
  const { forecastAnswer } = await import('./forecastOut.ts')
  const { state, nowMs, learning, notOk } = rehearsed(list)
  for (const line of notOk) io.err(`${JSON.stringify(line)}\n`)
  io.out(`${JSON.stringify(forecastAnswer(state, nowMs, learning))}\n`)
  return notOk.length > 0 ? 1 : 0
}

/** The shop's sheets as a file, or what is wrong with such a file. */
async function sheets(asked: Asked, io: Io): Promise<Code> {
  const { sheetsCommand } = await import('./sheetsOut.ts')
  const ended = await sheetsCommand(asked.words, dataOf(asked, io), io)
  return typeof ended === 'number' ? ended : wrongly(io, ended.wrong)
}
