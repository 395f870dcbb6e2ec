import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { minutesAt } from '../../../machines/clock/interval.ts'
import { answer, refusal } from './asking.ts'

const at20 = (minutes: number) => [{ atC: 20, minutes }]
const work = {
  coats: 2,
  sprayMinPerPanel: 5,
  panels: 1,
  flash: at20(10),
  potLife: at20(60),
  airC: 20,
}

describe('one cup for the work', () => {
  test('two coats on one panel: the second starts after spraying and flash', () => {
    expect(answer('cupPlan', work)).toEqual({
      lastCoatAtMin: 15,
      livesUntilMin: 60,
      enough: true,
      cups: [{ mixAtMin: 0, coats: 2, share: 1 }],
    })
  })

  test('many panels: going round takes longer than the flash, so no coat waits', () => {
    expect(answer('cupPlan', { ...work, panels: 4 }).lastCoatAtMin).toBe(35)
  })

  test('few panels: each round waits for the first panel’s flash', () => {
    // 0 and 5; the first panel flashed at 15: 15 and 20; then 30 and 35.
    expect(answer('cupPlan', { ...work, coats: 3, panels: 2 }).lastCoatAtMin).toBe(35)
  })

  test('warm air shortens the pot life and leaves the flash as the sheet gives it', () => {
    const warm = answer('cupPlan', { ...work, airC: 30 })
    expect([warm.livesUntilMin, warm.lastCoatAtMin]).toEqual([30, 15])
  })

  test('the air is taken to stay: a cup of two hours at 10 °C lasts two hours', () => {
    const potLife = [...at20(60), { atC: 10, minutes: 120 }]
    expect(answer('cupPlan', { ...work, potLife, airC: 10 }).livesUntilMin).toBe(120)
  })

  test('a cup must last to the finish of the last coat, not only to its start', () => {
    expect(answer('cupPlan', { ...work, potLife: at20(20) }).enough).toBe(true)
    expect(answer('cupPlan', { ...work, potLife: at20(19) }).enough).toBe(false)
  })

  test('a product without pot life is mixed once', () => {
    const plan = answer('cupPlan', { ...work, coats: 6, panels: 9, potLife: null })
    expect(plan).toMatchObject({ livesUntilMin: null, enough: true })
    expect(plan.cups).toHaveLength(1)
  })
})

describe('a cup that does not last long enough', () => {
  test('the next is mixed when its first coat starts', () => {
    const plan = answer('cupPlan', { ...work, coats: 3, potLife: at20(25) })
    expect(plan.enough).toBe(false)
    expect(plan.cups).toEqual([
      { mixAtMin: 0, coats: 2, share: 2 / 3 },
      { mixAtMin: 30, coats: 1, share: 1 / 3 },
    ])
  })
})

type Asked = { coats: number; panels: number; spray: number; flashMin: number; potLifeMin: number }

/** The schedule worked out a second way: panel by panel from its own last finish. */
function schedule({ coats, panels, spray, flashMin }: Asked): number[] {
  const times: number[] = []
  for (let n = 0; n < coats * panels; n += 1) {
    const hand = n === 0 ? 0 : (times[n - 1] as number) + spray
    const flashed = n < panels ? 0 : (times[n - panels] as number) + spray + flashMin
    times.push(Math.max(hand, flashed))
  }
  return times
}

/** The least number of cups by trying every place where the next could begin. */
function fewest(times: readonly number[], spray: number, lives: number): number {
  const least = [0]
  for (let end = 1; end <= times.length; end += 1) {
    let best = Number.POSITIVE_INFINITY
    for (let from = 0; from < end; from += 1) {
      const isAlive = (times[end - 1] as number) + spray - (times[from] as number) <= lives
      if (isAlive) best = Math.min(best, (least[from] as number) + 1)
    }
    least.push(best)
  }
  return least.at(-1) as number
}

describe('whatever is planned', () => {
  const asked: fc.Arbitrary<Asked> = fc.record({
    coats: fc.integer({ min: 1, max: 5 }),
    panels: fc.integer({ min: 1, max: 6 }),
    spray: fc.integer({ min: 1, max: 12 }),
    flashMin: fc.integer({ min: 0, max: 30 }),
    potLifeMin: fc.integer({ min: 12, max: 120 }),
  })
  const input = ({ coats, panels, spray, flashMin, potLifeMin }: Asked) => ({
    coats,
    panels,
    sprayMinPerPanel: spray,
    flash: at20(flashMin),
    potLife: at20(potLifeMin),
    airC: 20,
  })

  test('no cup is sprayed past its pot life, no coat starts before its flash, all coats are there', () => {
    fc.assert(
      fc.property(asked, (asked) => {
        const plan = answer('cupPlan', input(asked))
        const times = schedule(asked)
        expect(plan.lastCoatAtMin).toBe(times.at(-1))
        let next = 0
        for (const { mixAtMin, coats } of plan.cups) {
          expect(mixAtMin).toBe(times[next])
          next += coats
          const finish = (times[next - 1] as number) + asked.spray
          expect(finish).toBeLessThanOrEqual(mixAtMin + asked.potLifeMin)
        }
        expect(next).toBe(asked.coats * asked.panels)
        expect(plan.cups.reduce((all, cup) => all + cup.share, 0)).toBeCloseTo(1, 9)
      }),
    )
  })

  test('no plan has fewer cups', () => {
    fc.assert(
      fc.property(asked, (asked) => {
        const { cups, enough } = answer('cupPlan', input(asked))
        expect(cups.length).toBe(fewest(schedule(asked), asked.spray, asked.potLifeMin))
        expect(enough).toBe(cups.length === 1)
      }),
    )
  })

  test('in any air the cup’s end is the clock’s, to the second', () => {
    fc.assert(
      fc.property(fc.double({ min: 5, max: 38, noNaN: true }), (airC) => {
        const { livesUntilMin } = answer('cupPlan', { ...work, airC })
        const exact = minutesAt('notAfter', work.potLife, airC)
        expect(exact - (livesUntilMin as number)).toBeLessThan(1 / 60 + 1e-4)
        expect(exact - (livesUntilMin as number)).toBeGreaterThan(-1e-4)
      }),
    )
  })
})

describe('a plan that cannot be', () => {
  test('a pot life shorter than one panel’s spraying is refused with what would be accepted', () => {
    expect(refusal('cupPlan', { ...work, sprayMinPerPanel: 40, airC: 30 })).toMatchObject({
      field: 'sprayMinPerPanel',
      message: "sprayMinPerPanel: 40 won't work. Use at most the pot life in this air, 30 min.",
    })
  })

  test('no coats, half a panel, air of 400 and a curve without end are refused by name', () => {
    expect(refusal('cupPlan', { ...work, coats: 0 }).field).toBe('coats')
    expect(refusal('cupPlan', { ...work, panels: 1.5 }).field).toBe('panels')
    expect(refusal('cupPlan', { ...work, airC: 400 }).field).toBe('airC')
    const cliff = [
      { atC: 20, minutes: 500_000 },
      { atC: 20.001, minutes: 1 },
    ]
    expect(refusal('cupPlan', { ...work, airC: -30, flash: cliff }).field).toBe('flash')
  })
})
