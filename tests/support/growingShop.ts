import { shopCopy } from '../../kiosk/commands/copy.ts'
import { memoryEntries } from '../../kiosk/commands/entryDb.ts'
import { bookOf } from '../../kiosk/commands/logBook.ts'
import { logMemory } from '../../kiosk/commands/logMemory.ts'
import { dueBells } from '../../machines/deadlines.ts'
import { evict } from '../../machines/evict.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { randomOf } from './labelImage.ts'
import { idOf } from './randomView.ts'
import { MINUTE, openTestShop, START_MS, type TestShop } from './serverShop.ts'
import { BASE, CLEAR } from './sheets.ts'

/**
 * A shop that works for weeks and years on a real server, and one kiosk that is never reloaded: what
 * they hold must not grow with the log.
 */

const HOUR = 60 * MINUTE
const DAY = 24 * HOUR
const ZONES = ['booth', 'bench'] as const
const GUNS = ['base-gun', 'clear-gun'] as const
const SENSED_EVERY = 30 * MINUTE
const COLOUR = { key: 'body', code: 'van gray', kind: 'solid' }
const ROUTE = [
  { stage: 'base', sheet: BASE.sheet, colour: 'body' },
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure', sheet: CLEAR.sheet },
]

/** Sizes in bytes of JSON. */
export type Size = {
  readonly day: number
  readonly entries: number
  readonly server: number
  readonly kiosk: number
  /** The copy of the shop and the newest entries, as the device keeps them. */
  readonly device: number
}

type Job = { readonly id: string; readonly panels: readonly string[] }

const sizeOf = (value: unknown): number => JSON.stringify(value).length

/** Reads nothing from a server: what this kiosk knows of the log it has heard. */
const unasked = async () => new Response(null, { status: 503 })

export class GrowingShop {
  readonly #shop: TestShop
  readonly #copy: ReturnType<typeof shopCopy>
  readonly #entries = memoryEntries()
  readonly #memory = logMemory({
    book: async () => bookOf(this.#entries, unasked),
    wait: () => new Promise(() => {}),
  })
  readonly #random: () => number
  #ids = 0
  #commands = 0
  #sensedAt = 0
  #past: Job[] = []
  /** How often the kiosk asked for the whole state. */
  asked = 0

  private constructor(shop: TestShop, seed: number) {
    this.#shop = shop
    this.#random = randomOf(seed)
    this.#copy = shopCopy(shop.clock.now, () => evict)
    this.#ask()
    shop.shops.ownWriter.follow((news) => {
      if (news.kind !== 'committed') return
      for (const entry of news.entries) {
        this.#memory.seen(entry)
        if (!this.#copy.add(entry)) this.#ask()
      }
    })
  }

  /** @param seed the same one gives the same years */
  static async open(seed: number): Promise<GrowingShop> {
    const store = memoryStore()
    await store.putMeta('shop', 'SHAPSHAP')
    const growing = new GrowingShop(await openTestShop({ store }), seed)
    await growing.#setUp()
    return growing
  }

  /** The state is given as it is once the entries that were just told are in it. */
  #ask(): void {
    this.asked += 1
    this.#copy.renew()(this.#shop.shops.ownWriter.state())
  }

  get #state() {
    return this.#shop.shops.ownWriter.state()
  }

  /** How many days of this shop are over. */
  get day(): number {
    return Math.round((this.#now - START_MS) / DAY)
  }

  get #now(): number {
    return this.#shop.clock.now()
  }

  #newId(letter: string): string {
    this.#ids += 1
    return idOf(letter, this.#ids)
  }

  #chance(percent: number): boolean {
    return this.#random() * 100 < percent
  }

  async #say(type: string, data: object): Promise<void> {
    this.#commands += 1
    const input = { id: `g${this.#commands}`, type, data }
    const { status, body } = await this.#shop.shops.ownWriter.handle(input)
    if (status !== 200) throw new Error(`${type} ${JSON.stringify(data)}: ${JSON.stringify(body)}`)
  }

  async #setUp(): Promise<void> {
    for (const sheet of [BASE, CLEAR]) await this.#say('SaveSheet', { sheet })
    for (const gun of GUNS) await this.#say('SaveGun', { gun, name: gun })
  }

  /** Time goes by: sensors read, bells ring and most are answered. */
  async #until(at: number): Promise<void> {
    while (this.#now < at) {
      const step = Math.min(at, this.#sensedAt + SENSED_EVERY, this.#now + SENSED_EVERY)
      this.#shop.clock.advance(Math.max(0, step - this.#now))
      if (this.#now >= this.#sensedAt + SENSED_EVERY) await this.#sense()
      for (const { key } of dueBells(this.#state, this.#now)) {
        await this.#say('RingBell', { key })
        if (this.#chance(70)) await this.#say('AcknowledgeBell', { key })
      }
    }
  }

  async #sense(): Promise<void> {
    this.#sensedAt = this.#now
    for (const zone of ZONES) {
      const airC = Math.round(10 * (18 + 6 * this.#random())) / 10
      const rh = Math.round(100 * (0.4 + 0.2 * this.#random())) / 100
      await this.#say('ReadClimate', { zone, airC, rh })
    }
  }

  #after(minutes: number): Promise<void> {
    return this.#until(this.#now + minutes * MINUTE)
  }

  async #coats(panels: readonly string[], cup: string, gun: string): Promise<void> {
    await this.#say('LoadGun', { gun, cup })
    for (let coat = 0; coat < 2; coat += 1) {
      await this.#say('StartCoat', { panels, cup, gun })
      await this.#after(5)
      await this.#say('FinishCoat', { panels })
      await this.#after(20)
    }
    await this.#say('CleanGun', { gun })
    await this.#say('EmptyCup', { cup, how: this.#chance(50) ? 'used' : 'discarded' })
  }

  /** Three hours of one job, from its opening to the last panel's pass. Some are never closed. */
  async #job(): Promise<void> {
    const job = this.#newId('J')
    const [base, clear] = [this.#newId('C'), this.#newId('C')]
    const panels = [this.#newId('P'), this.#newId('P')]
    await this.#say('OpenJob', { job, title: 'Delivery van, rear corner', colours: [COLOUR] })
    for (const panel of panels) {
      const what = { job, panel, name: 'Rear door', operation: 'repair', areaM2: 0.8 }
      await this.#say('AddPanel', { ...what, route: ROUTE })
    }
    await this.#say('AddNote', { job, text: 'Two chips under the handle' })
    const mix = { totalMl: 400, job }
    await this.#say('MixCup', { ...mix, cup: base, sheet: BASE.sheet, colour: 'body' })
    await this.#coats(panels, base, 'base-gun')
    await this.#say('MixCup', { ...mix, cup: clear, sheet: CLEAR.sheet, activator: 'standard' })
    await this.#coats(panels, clear, 'clear-gun')
    // The vapor of the gun that was cleaned has to go first.
    await this.#after(3)
    await this.#say('StartCure', { panels, mode: 'bake' })
    await this.#after(10)
    for (const panel of panels) await this.#say('ReadPart', { panel })
    await this.#after(40)
    for (const panel of panels) await this.#say('PassPanel', { panel })
    if (this.#chance(70)) await this.#say('CloseJob', { job })
    this.#past.push({ id: job, panels })
  }

  /** Somebody remembers something about a job of long ago. */
  async #remember(): Promise<void> {
    const old = this.#past[Math.floor(this.#random() * this.#past.length)]
    if (!old) return
    await this.#say('AddNote', { job: old.id, text: 'The customer called about the door' })
    const [panel] = old.panels
    await this.#say('AddNote', { job: old.id, panel, text: 'Look at the edge again' })
  }

  /** The shop from eight in the morning of one day to the next; on Saturdays and Sundays only its sensors work. */
  async liveDay(): Promise<void> {
    const next = this.#now + DAY - ((this.#now - START_MS) % DAY)
    const weekday = Math.floor((this.#now - START_MS) / DAY) % 7
    if (weekday < 5) {
      await this.#job()
      if (this.#chance(30)) await this.#remember()
      await this.#job()
    }
    await this.#until(next)
  }

  async size(): Promise<Size> {
    await this.#memory.settled()
    const copy = this.#copy.confirmed.peek()
    return {
      day: this.day,
      entries: this.#state.head,
      server: sizeOf(this.#state),
      kiosk: sizeOf(this.#copy.state.peek()),
      device: sizeOf(copy) + sizeOf(await this.#entries.all()),
    }
  }
}
