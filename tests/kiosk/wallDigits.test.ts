import { describe, expect, test } from 'vitest'
import { digitsIn } from '../../kiosk/lanes/chip.ts'

/** What the digits of a lane show in each second of the kiosk's time. */

const T = Date.UTC(2026, 10, 25, 8)

describe('digits that are written once a second', () => {
  test('are never more than half a second early or late', () => {
    for (let phase = 0; phase < 1_000; phase += 50) {
      const toMs = T + 30_000 + phase
      for (let at = T; at < toMs - 1_000; at += 100) {
        const shown = digitsIn({ toMs }, at)
        const leftS = Number(shown.split(':')[1])
        // Right from a second before it is over until that: what is left lies between this and one less.
        const leftMs = toMs - at
        expect(leftMs, `${phase} ${at - T}`).toBeGreaterThanOrEqual((leftS - 1) * 1_000 - 500)
        expect(leftMs, `${phase} ${at - T}`).toBeLessThanOrEqual(leftS * 1_000 + 500)
      }
    }
  })

  test('change with the second, all together', () => {
    const all = (at: number) => [100, 500, 900].map((by) => digitsIn({ toMs: T + 60_000 + by }, at))
    expect(all(T + 999)).toEqual(all(T))
    const [before, after] = [all(T + 999), all(T + 1_000)]
    for (const [n, shown] of before.entries()) expect(after[n]).not.toBe(shown)
  })

  test('show an end that comes within the second as its end, and what is past as past', () => {
    expect(digitsIn({ toMs: T + 300 }, T)).toBe('0:00')
    expect(digitsIn({ toMs: T + 300 }, T + 299)).toBe('0:00')
    expect(digitsIn({ toMs: T + 300 }, T + 300)).toBe('−0:01')
    expect(digitsIn({ sinceMs: T + 200 }, T)).toBe('0:01')
  })
})
