import { describe, expect, test } from 'vitest'
import { labelSamples, missedBy, type Sample, sheetSamples } from '../support/damageSamples.ts'
import { damaged, NOMINAL } from '../support/labelDamage.ts'
import { randomOf } from '../support/labelImage.ts'

/**
 * Codes on damaged labels and sheets, read by readers that we did not write: bent on a cup of 60 mm, tilted by 15
 * degrees, out of focus by a module, low in contrast, with a drop on a twentieth of the code; each alone. Of 200
 * seeded cases of every kind, stock, resolution and reader 995 of 1,000 are read; a few of each in the short run.
 */

const isLong = Boolean(process.env.FLASHBELL_LONG)
const seed = Number(process.env.FLASHBELL_SEED ?? 1)
const share = Number(process.env.FLASHBELL_SHARE ?? 1)
const CASES = isLong ? Math.ceil(200 * share) : 5
const LEAST = 0.995

/** The short run takes a few kinds on the smallest stock and sheet. */
const isShort = ({ name }: Sample): boolean => /^(cup|panel|job), (57x32|4x6)/.test(name)

async function notRead(one: Sample): Promise<string[]> {
  const missed: string[] = []
  for (let n = 0; n < CASES; n += 1) {
    const damage = one.damages[n % one.damages.length] ?? 'blur'
    const pictures = damaged(one.code, damage, NOMINAL[damage], randomOf(seed * 1_000_003 + n))
    for (const reader of await missedBy(one, pictures))
      missed.push(`${one.name}, ${reader}: ${damage} ${n}`)
  }
  return missed
}

describe('damaged as in a shop', { timeout: 3_600_000 }, () => {
  test.each([
    ['labels', labelSamples],
    ['flat sheets', sheetSamples],
  ] as const)('codes of %s are read', async (_what, samples) => {
    const all = samples().filter((one) => isLong || isShort(one))
    expect(all.length).toBeGreaterThanOrEqual(isLong ? 36 : 6)
    const under: string[] = []
    for (const one of all) {
      const missed = await notRead(one)
      for (const reader of one.readers) {
        const own = missed.filter((what) => what.startsWith(`${one.name}, ${reader}:`))
        if (isLong) console.log(`${one.name}, ${reader}: ${CASES - own.length} of ${CASES} read`)
        if (1 - own.length / CASES < LEAST) under.push(...own)
      }
    }
    // All of them, not the first kind that is read too seldom.
    expect([`seed ${seed}`, ...under]).toEqual([`seed ${seed}`])
  })
})
