import { effect, type ReadonlySignal } from '@preact/signals'

/**
 * What runs on a Wall by itself: digits by the second, stretches of time in slow steps. Of forty lanes a screen
 * shows a few: what is out of sight is looked at when it comes into sight. One pass a tick for all of them: on a
 * slow tablet the first of some digits costs as much as all others together.
 */

export type Clock = {
  readonly now: ReadonlySignal<number>
  /** The same in slow steps. */
  readonly slow: ReadonlySignal<number>
}

export type Running = {
  readonly box: Element
  /** Brings what it shows up to a time, UTC ms. */
  readonly look: (nowMs: number) => void
  /**
   * When it is to be looked at: `seconds` in sight, and out of sight in slow steps, for whoever reads the page
   * in another way; `slowly` in slow steps and in sight only.
   */
  readonly by: 'seconds' | 'slowly'
}

/** So far out of sight it is looked at as if it were in it: a list that is flicked shows nothing that is old. */
const NEAR = '100px 0px'

/** All that runs by one clock. */
class InSight {
  readonly #now: ReadonlySignal<number>
  readonly #all = new Map<Element, Running>()
  readonly #near = new Set<Element>()
  /** Those in sight that run by the second. */
  readonly #ticking = new Set<Running>()
  readonly #stops: readonly (() => void)[]

  constructor({ now, slow }: Clock) {
    this.#now = now
    // One effect for all of them: forty cost little more than one.
    this.#stops = [
      effect(() => {
        const nowMs = now.value
        for (const one of this.#ticking) one.look(nowMs)
      }),
      effect(() => {
        slow.value
        const nowMs = now.peek()
        for (const one of this.#all.values())
          if (one.by === 'seconds' || this.#near.has(one.box)) one.look(nowMs)
      }),
      () => this.#sight.disconnect(),
    ]
  }

  readonly #sight = new IntersectionObserver((changes) => this.#see(changes), {
    // A list that scrolls within the page counts too, where the browser knows of it (Chromium 120).
    ...{ scrollMargin: NEAR },
    rootMargin: NEAR,
  })

  #see(changes: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of changes) {
      const one = this.#all.get(target)
      if (one === undefined) continue
      this.#put(one, isIntersecting)
      if (isIntersecting) one.look(this.#now.peek())
    }
  }

  #put(one: Running, isNear: boolean): void {
    if (isNear) this.#near.add(one.box)
    else this.#near.delete(one.box)
    if (isNear && one.by === 'seconds') this.#ticking.add(one)
    else this.#ticking.delete(one)
  }

  get isIdle(): boolean {
    return this.#all.size === 0
  }

  add(one: Running): void {
    this.#all.set(one.box, one)
    // In sight until the browser says otherwise.
    this.#put(one, true)
    this.#sight.observe(one.box)
  }

  remove(one: Running): void {
    this.#put(one, false)
    this.#all.delete(one.box)
    this.#sight.unobserve(one.box)
  }

  stop(): void {
    for (const stop of this.#stops) stop()
  }
}

const byClock = new WeakMap<ReadonlySignal<number>, InSight>()

/** @returns ends it */
export function run(clock: Clock, one: Running): () => void {
  const all = byClock.get(clock.now) ?? new InSight(clock)
  byClock.set(clock.now, all)
  all.add(one)
  return () => {
    all.remove(one)
    if (!all.isIdle) return
    all.stop()
    byClock.delete(clock.now)
  }
}
