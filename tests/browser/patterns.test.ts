import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { PATTERNS, type PatternName } from '../../kiosk/bells/sound/patterns.ts'
import { MAX_RISE_DB } from '../../kiosk/bells/sound/speaker.ts'
import { soundingDb, TEST_S } from '../../kiosk/bells/sound/testSignal.ts'
import { type Opened, openBrowser, openPage, type Site, servePage } from '../support/browser.ts'
import { db, lineNear, powerBetween, pulses, riseMs, rms, spectrum } from './analyse.ts'

const RATE = 48_000
let browser: Browser
let site: Site
let opened: Opened
let page: Page
beforeAll(async () => {
  ;[browser, site] = await Promise.all([openBrowser(), servePage('pages/patterns.ts')])
  opened = await openPage(browser, site)
  page = opened.page
})
afterAll(async () => {
  await opened.close()
  await browser.close()
  await site.stop()
})

async function render(name: PatternName, gainDb = 0, stopAtS: number | null = null) {
  const text = await page.evaluate(([n, g, s]) => window.render(n, g, s), [
    name,
    gainDb,
    stopAtS,
  ] as const)
  return new Float32Array(Uint8Array.from(Buffer.from(text, 'base64')).buffer)
}

// On, off, on ... in ms, and the fundamental of each pulse in Hz: our own catalog, no published source.
const CATALOGUE: [PatternName, number[], number[]][] = [
  ['A', [250, 150, 250], [523, 784]],
  ['B1', [200, 200, 200, 200, 200], [784, 784, 587]],
  ['C1', [150, 100, 150, 350, 150, 100, 150], [659, 880, 659, 880]],
  ['C2', [150, 100, 150, 350, 150, 100, 150], [880, 880, 880, 880]],
  [
    'B2',
    [130, 100, 130, 100, 130, 100, 130, 100, 130, 400, 130, 100, 130, 100, 130, 100, 130, 100, 130],
    [880, 880, 988, 988, 880, 880, 880, 988, 988, 880],
  ],
  ['D', [700, 150, 200], [653.5, 523]],
]

test.each(CATALOGUE)('%s has its onsets, lengths and gaps within 10 ms', async (name, onOff) => {
  const found = pulses(await render(name), RATE)
  const heard = found.flatMap((p, n) => {
    const next = found[n + 1]
    return next ? [p.lengthMs, next.onsetMs - p.onsetMs - p.lengthMs] : [p.lengthMs]
  })
  expect(heard).toHaveLength(onOff.length)
  onOff.forEach((ms, n) => {
    expect(Math.abs((heard[n] ?? 0) - ms), `part ${n} of ${name}`).toBeLessThanOrEqual(10)
  })
  let onsetMs = 100
  found.forEach((p, n) => {
    expect(Math.abs(p.onsetMs - onsetMs)).toBeLessThanOrEqual(10)
    onsetMs += (onOff[2 * n] ?? 0) + (onOff[2 * n + 1] ?? 0)
  })
})

test.each(CATALOGUE)('every pulse of %s carries through a booth fan', async (name, _, hz) => {
  const samples = await render(name)
  const found = pulses(samples, RATE)
  found.forEach((p, n) => {
    const lines = spectrum(samples, RATE, p.onsetMs, p.onsetMs + p.lengthMs)
    const first = lineNear(lines, hz[n] ?? 0)
    expect(first.hz).toBeGreaterThanOrEqual(500)
    expect(first.hz).toBeLessThanOrEqual(1000)
    expect(Math.abs(first.hz - (hz[n] ?? 0)), `pitch of pulse ${n}`).toBeLessThanOrEqual(15)
    // By bands: a glide spreads its higher harmonics over more lines.
    const harmonics = [1, 2, 3, 4, 5].map((k) =>
      powerBetween(lines, k * first.hz * 0.92, k * first.hz * 1.08),
    )
    const levels = harmonics.map((power) => 10 * Math.log10(power / Math.max(...harmonics)))
    expect(Math.min(...levels), 'harmonics 2 to 5 are there').toBeGreaterThan(-30)
    const [, , , fourth] = levels.toSorted((a, b) => b - a)
    expect(fourth, 'the four largest within 15 dB').toBeGreaterThanOrEqual(-15)
    const all = powerBetween(lines, 0, 6000)
    expect(powerBetween(lines, 500, 2500) / all, 'mainly 500-2500 Hz').toBeGreaterThan(0.75)
    expect(powerBetween(lines, 0, 1500) / all, 'a third below 1500 Hz').toBeGreaterThan(1 / 3)
    const rise = riseMs(samples, RATE, p)
    expect(rise).toBeGreaterThanOrEqual(13)
    expect(rise).toBeLessThanOrEqual(30)
  })
})

test('the cure bell glides down, the coat bell steps up', async () => {
  const samples = await render('D')
  const strongest = (fromMs: number) => {
    const lines = spectrum(samples, RATE, fromMs, fromMs + 60).filter((l) => l.hz < 1000)
    return lines.reduce((most, l) => (l.power > most.power ? l : most)).hz
  }
  const path = [110, 300, 500, 700].map(strongest)
  expect(path).toEqual(path.toSorted((a, b) => b - a))
  expect(Math.abs((path[0] ?? 0) - 784)).toBeLessThanOrEqual(25)
  expect(Math.abs((path[3] ?? 0) - 523)).toBeLessThanOrEqual(60)
})

test('touch sounds are short and at least 6 dB below every bell', async () => {
  const sounding = async (name: PatternName) => {
    const samples = await render(name)
    const parts = pulses(samples, RATE).map((p) => {
      const from = Math.round(((p.onsetMs + p.lengthMs / 4) / 1000) * RATE)
      return rms(samples.subarray(from, from + Math.round((p.lengthMs / 2000) * RATE)))
    })
    return Math.max(...parts)
  }
  const bells = await Promise.all(CATALOGUE.map(([name]) => sounding(name)))
  for (const touch of ['ok', 'error'] as const)
    expect(db((await sounding(touch)) / Math.min(...bells))).toBeLessThanOrEqual(-6)
  expect(pulses(await render('ok'), RATE)).toHaveLength(1)
  const error = pulses(await render('error'), RATE)
  expect(error.map((p) => Math.round(p.lengthMs / 10) * 10)).toEqual([90, 90])
})

test('the loudest escalated bell stays within full scale and above the plain one', async () => {
  const [plain, risen] = await Promise.all([render('B2'), render('B2', MAX_RISE_DB)])
  const peak = (samples: Float32Array) =>
    samples.reduce((most, s) => Math.max(most, Math.abs(s)), 0)
  expect(peak(risen)).toBeLessThanOrEqual(1)
  expect(db(rms(risen) / rms(plain))).toBeCloseTo(MAX_RISE_DB, 1)
})

test('a silenced bell is silent one ramp later, also in the notes still to come', async () => {
  const samples = await render('B2', 0, 0.5)
  const after = samples.subarray(Math.round(0.53 * RATE))
  expect(rms(samples.subarray(0, Math.round(0.5 * RATE)))).toBeGreaterThan(0.01)
  expect(rms(after)).toBe(0)
})

test('the page renders the patterns the catalog lists, and no other', () => {
  expect(new Set(Object.keys(PATTERNS))).toEqual(
    new Set([...CATALOGUE.map(([name]) => name), 'ok', 'error']),
  )
})

test('the steady test signal is as loud as a bell while it sounds, and ends by itself after a minute', async () => {
  const perSecond = await page.evaluate(() => window.renderTestSignal())
  const loud = soundingDb(PATTERNS.A)
  expect(perSecond).toHaveLength(TEST_S + 2)
  // Noise: a second of it is not quite as loud as the next.
  for (const level of perSecond.slice(0, TEST_S)) expect(Math.abs(level - loud)).toBeLessThan(1)
  expect(perSecond.slice(TEST_S)).toEqual([Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY])
})

test('a bell’s notes have the power that the test signal is set by', async () => {
  const samples = await render('A')
  // The middle of the first note, away from its ramps.
  const note = samples.subarray(Math.round(0.15 * RATE), Math.round(0.3 * RATE))
  expect(Math.abs(db(rms(note)) - soundingDb(PATTERNS.A))).toBeLessThan(0.3)
})
