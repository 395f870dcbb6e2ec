import fc from 'fast-check'
import { COMMANDS, type CommandType } from '../../machines/commands.ts'
import type { AnyCommand } from '../../machines/contract.ts'
import { deadlines, dueBells } from '../../machines/deadlines.ts'
import { decide } from '../../machines/decide.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { State } from '../../machines/state.ts'
import { GUNS, type Wish, ZONES } from './randomChoices.ts'
import { Dice, type Intent, intentOf } from './randomDice.ts'
import { makers, nextWish } from './randomPainter.ts'
import { airOf } from './randomSetup.ts'
import { COLOURS, ROUTES, SHEETS } from './randomSheets.ts'
import { idOf } from './randomView.ts'
import { type Answer, answerTo, MINUTE, Shop, START_MS } from './shop.ts'

const HOUR = 60 * MINUTE
/** Commands that open the shop: settings, a job, and all of the lists below. */
const SETUP = 2 + SHEETS.length + GUNS.length + ZONES.length + 3

const sayingNoKeep = ({ keepDays: _, ...sheet }: object & { keepDays?: number }) => sheet

/** One command as it was decided: all that a test needs to decide it again. */
export type Sent = {
  readonly before: State
  readonly command: AnyCommand
  readonly now: number
  readonly answer: Answer
  readonly after: State
}

export const isAccepted = ({ answer }: Sent): boolean => 'drafts' in answer

/**
 * A random shop at work: people with devices of their own press what seems right to them, are
 * offline at times, type times back, and take things back. What they say is sent to the same
 * parse, decide and fold as ever.
 */
export class RandomDay {
  readonly shop = new Shop()
  readonly sent: Sent[] = []
  readonly #commands = new Map<string, AnyCommand>()
  readonly #queues = new Map<string, AnyCommand[]>()
  /** Whether the shop's kiosk rings each bell when it falls due, as it would. */
  readonly ringsBells: boolean
  /** Whether nights pass, and no sheet of the first morning says how long a mix keeps. */
  readonly hasNights: boolean
  #ids = 0
  #seq = 0

  constructor({ ringsBells = false, hasNights = false } = {}) {
    this.ringsBells = ringsBells
    this.hasNights = hasNights
  }

  get state(): State {
    return this.shop.state
  }
  get now(): number {
    return this.shop.now
  }
  get entries(): readonly Entry[] {
    return this.shop.entries
  }

  newId(letter: string): string {
    this.#ids += 1
    return idOf(letter, this.#ids)
  }

  commandOf(id: string): AnyCommand | undefined {
    return this.#commands.get(id)
  }

  /** Decides a command that arrives now. */
  arrive(command: AnyCommand): void {
    const before = this.state
    const answer = answerTo(decide(before, command, this.now), this.now)
    if ('drafts' in answer) for (const draft of answer.drafts) this.shop.keep(draft)
    this.sent.push({ before, command, now: this.now, answer, after: this.state })
  }

  #parse({ type, data, at, reason, by }: Wish, device: string | null): AnyCommand {
    this.#seq += 1
    const command = this.shop.parse(type, data, {
      ...(device === null ? {} : { device, seq: this.#seq }),
      ...(at === undefined ? {} : { at }),
      ...(reason === undefined ? {} : { reason }),
      ...(by === undefined ? {} : { by }),
    })
    this.#commands.set(command.id, command)
    return command
  }

  say(type: CommandType, data: object): void {
    this.arrive(this.#parse({ type, data }, null))
  }

  /** What is in the shop before the day begins. */
  open(): this {
    this.say('ChangeSettings', { shopName: 'a shop' })
    for (const sheet of SHEETS)
      this.say('SaveSheet', { sheet: this.hasNights ? sayingNoKeep({ ...sheet }) : sheet })
    for (const gun of GUNS) this.say('SaveGun', { gun })
    for (const zone of ZONES) this.say('ReadClimate', { zone, airC: 21, rh: 0.5 })
    // Of some products the shop has said it; of the others nobody has, until somebody does.
    if (this.hasNights)
      for (const { sheet } of SHEETS.filter((_, i) => i % 4 === 0))
        this.say('SetShopFigure', { sheet, keep: { reduced: false, days: 1 } })
    const job = this.newId('J')
    this.say('OpenJob', { job, title: 'delivery van', colours: COLOURS })
    for (const route of ROUTES.slice(0, 3)) {
      const panel = { panel: this.newId('P'), name: 'rear corner', operation: 'repair' }
      this.say('AddPanel', { job, ...panel, route, areaM2: 0.8 })
    }
    return this
  }

  /** Waits for the next bell, or a little less or more; for long ones nobody stands about. */
  #wait({ till, n }: Intent['wait']): void {
    const next = deadlines(this.state).find((d) => d.dueAt > this.now)
    const bell = Math.min(next?.dueAt ?? this.now, this.now + 45 * MINUTE) - this.now
    const ms = {
      bell: Math.max(0, bell + (n - 2) * 1000),
      seconds: n * 1000,
      minutes: n * MINUTE,
      hours: n * HOUR * (this.hasNights ? 4 : 1),
    }
    const until = this.now + ms[till]
    if (this.ringsBells) this.ringUntil(until)
    this.shop.now = until
  }

  /** Rings what falls due until an instant, each bell at its own moment, or at once if it is past. */
  ringUntil(until: number): void {
    for (;;) {
      const [due] = dueBells(this.state, until)
      if (!due) return
      this.shop.now = Math.max(this.now, due.dueAt)
      const { head } = this.state
      this.say('RingBell', { key: due.key })
      // What is due must ring, or this would go on forever.
      if (this.state.head === head || head > 2_000) {
        throw new Error(`${due.key} did not ring:\n${this.trace()}`)
      }
    }
  }

  /** Sends what a device has kept while the server was away. */
  flush(device: string): void {
    const queue = this.#queues.get(device) ?? []
    this.#queues.delete(device)
    for (const command of queue) {
      this.arrive(command)
      this.shop.now += 50
    }
  }

  #wishOf(intent: Intent, dice: Dice): Wish | null {
    if (intent.what === 'next') return nextWish(this, dice)
    const wish = makers[intent.what]?.(this, dice)
    return wish ? { type: intent.what, ...wish } : null
  }

  /** Sensors of zones that were not heard for ten minutes. */
  #sense(dice: Dice): void {
    for (const zone of ZONES) {
      const last = this.entries.findLast((e) => e.type === 'ClimateRead' && e.zone === zone)
      if (this.now - (last?.at ?? 0) < 10 * MINUTE) continue
      this.arrive(this.#parse({ type: 'ReadClimate', data: { zone, ...airOf(dice) } }, 'sensor'))
    }
  }

  play(intent: Intent): void {
    this.#wait(intent.wait)
    if (intent.isSensed) this.#sense(new Dice(intent.rolls.toReversed()))
    const device = intent.device === 0 ? null : `kiosk-${intent.device}`
    if (device !== null && intent.isBack) this.flush(device)
    const dice = new Dice(intent.rolls)
    const wish = this.#wishOf(intent, dice)
    if (!wish) return
    const at = intent.backMin === 0 ? {} : { at: this.now - intent.backMin * MINUTE }
    // Most say who they are, once there is anybody that they could be.
    const by = dice.chance(10) ? undefined : dice.of(Object.keys(this.state.things.person))
    const who = by === undefined ? {} : { by }
    const why = intent.backMin > 10 ? { reason: 'found on a note' } : {}
    const command = this.#parse({ ...wish, ...at, ...why, ...who }, device)
    // While a device keeps commands back, everything it says waits in the same queue.
    const queue = device === null ? undefined : this.#queues.get(device)
    if (device === null || (!intent.isOffline && !queue)) this.arrive(command)
    else {
      const pressed = { enteredAt: this.now, at: command.at ?? this.now }
      this.#queues.set(device, [...(queue ?? []), { ...command, ...pressed }])
    }
  }

  /** What was said and answered after the shop had opened, a line each: what a failure should show. */
  trace(): string {
    const lines = this.sent.slice(SETUP).map(({ command, now, answer }) => {
      const { id, type, at, device, data } = command
      const said = 'drafts' in answer ? answer.drafts.map((d) => d.outside ?? 'ok') : answer
      const when = [now, at ?? now].map((t) => ((t - START_MS) / MINUTE).toFixed(3)).join(' of ')
      return [id, when, device ?? '-', type, JSON.stringify(data), JSON.stringify(said)].join(' ')
    })
    return lines.join('\n')
  }

  playAll(intents: readonly Intent[]): this {
    for (const intent of intents) this.play(intent)
    for (const device of [...this.#queues.keys()]) this.flush(device)
    return this
  }
}

export const COMMAND_TYPES = Object.keys(COMMANDS) as CommandType[]
export const intent = intentOf(COMMAND_TYPES)

/** What people are up to on a day, few things or many. */
export const intents = fc.oneof(
  { weight: 3, arbitrary: fc.array(intent, { maxLength: 90, size: 'max' }) },
  {
    weight: 1,
    arbitrary: fc.array(intentOf(COMMAND_TYPES, 'evenly'), { maxLength: 90, size: 'max' }),
  },
)

/** Days on which everything that can be said is said about as often. */
export const evenIntents = fc.array(intentOf(COMMAND_TYPES, 'evenly'), {
  minLength: 60,
  maxLength: 90,
  size: 'max',
})

/** Days of a shop that keeps what it mixed: it mixes, says how long that keeps, and sprays it days later. */
const KEPT: readonly CommandType[] = [
  ...(['MixCup', 'StartCoat', 'FinishCoat', 'PourCup', 'SetShopFigure', 'SaveSheet'] as const),
  ...(['EmptyCup', 'ReadClimate', 'PourBack', 'LoadGun', 'VoidEntry', 'CleanGun'] as const),
]
export const keptIntents = fc.array(intentOf(KEPT, 'evenly'), {
  minLength: 40,
  maxLength: 90,
  size: 'max',
})

/** A day of a shop from what its people are up to. */
export const dayOf = (intents: readonly Intent[], how = {}): RandomDay =>
  new RandomDay(how).open().playAll(intents)
