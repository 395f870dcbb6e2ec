import { describe, expect, test } from 'vitest'
import { alsoFor } from '../../../kiosk/bench/amount.ts'
import { filled, NEW_DRAFT } from '../../../kiosk/bench/draft.ts'
import { factsOf, sheetNames } from '../../../kiosk/jobs/entryFacts.ts'
import { entriesHere } from '../../../kiosk/jobs/historyLines.ts'
import { namesIn } from '../../../kiosk/jobs/names.ts'
import { cupLabelOf } from '../../../labels/fromState.ts'
import type { ThingRef } from '../../../machines/catalog.ts'
import { relatedEntries } from '../../../machines/job/relatedEntries.ts'
import { forecastOf } from '../../../machines/plan/forecast.ts'
import { openDeviations } from '../../../machines/trace/openDeviations.ts'
import { longAwaited } from '../../../machines/waiting.ts'
import { SAY } from '../../kiosk/historyShop.ts'
import {
  BASE_CUP,
  cupOf,
  JOB,
  mix,
  queued,
  refusalOf,
  said,
  shopWith,
} from '../../support/given.ts'
import { asSaved, BASE } from '../../support/sheets.ts'
import { type Answer, minute, type Shop } from '../../support/shop.ts'

/** One cup for two vehicles of the same color code. */

const [OTHER, RED] = ['KKKK2222', 'RRRR2222']
const [VAN, CAR, RED_DOOR] = ['PPPP2222', 'QQQQ2222', 'DDDD2222']

/** A van and a car of one white, each with its own name for it, and one that is red. */
function threeJobs(variant?: string): Shop {
  const shop = shopWith([BASE])
  const open = (job: string, panel: string, key: string, code: string, more: object = {}) => {
    shop.do('OpenJob', {
      job,
      title: `Job ${key}`,
      colours: [{ key, code, kind: 'solid', ...more }],
    })
    const route = [{ stage: 'base', sheet: BASE.sheet, colour: key }]
    shop.do('AddPanel', { job, panel, name: 'Door', operation: 'repair', areaM2: 1, route })
  }
  open(JOB, VAN, 'body', 'W-1')
  open(OTHER, CAR, 'roof', 'W-1', variant === undefined ? {} : { variant })
  open(RED, RED_DOOR, 'body', 'R-9')
  return shop
}
const LATE_JOB = 'SSSS2222'
const both = { job: JOB, alsoFor: [OTHER], colour: 'body' }
const start =
  (panel: string) =>
  (shop: Shop): Answer =>
    shop.send('StartCoat', { panels: [panel], cup: BASE_CUP })
const mixing = (shop: Shop, more: object) =>
  shop.send('MixCup', { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 500, ...both, ...more })

describe('a cup for two jobs', () => {
  test('goes on both, in one pass as well, and on no other of the same name', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    expect(cupOf(shop, BASE_CUP).alsoFor).toEqual([OTHER])
    expect(said(start(VAN)(shop.fork()))).toBe('done')
    expect(said(shop.fork().send('StartCoat', { panels: [VAN, CAR], cup: BASE_CUP }))).toBe('done')
    expect(said(start(RED_DOOR)(shop))).toBe('wrongColour')
  })

  test('that is tinted by hand fits both, and one that is tinted for the one does not fit the other', () => {
    const tinted = (more: object) => mix(threeJobs(), BASE_CUP, BASE.sheet, { ...more, tint: 'T1' })
    expect(said(start(CAR)(tinted(both)))).toBe('done')
    expect(said(start(CAR)(tinted({ job: JOB, colour: 'body' })))).toBe('wrongColour')
    expect(said(start(RED_DOOR)(tinted(both)))).toBe('wrongColour')
  })

  test('is not mixed for a job of another code, of another variant, that is closed or not there', () => {
    expect(refusalOf(mixing(threeJobs(), { alsoFor: [RED] })).message).toBe(
      'There is no color W-1 here. Use one of R-9.',
    )
    expect(said(mixing(threeJobs('B'), {}))).toBe('unknownThing')
    const closed = threeJobs()
    closed.do('CloseJob', { job: OTHER, override: { reason: 'Called off' } })
    expect(said(mixing(closed, {}))).toBe('closed')
    expect(said(mixing(threeJobs(), { alsoFor: ['ZZZZ2222'] }))).toBe('unknownThing')
    expect(said(mixing(threeJobs(), {}))).toBe('done')
  })

  test('poured on is for both while all that is in it is', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    mix(shop, 'EEEE2222', BASE.sheet, { job: JOB, colour: 'body' })
    const poured = (cup: string, from: readonly string[]) => {
      shop.do('PourCup', { cup, from: from.map((one) => ({ cup: one, ml: 50 })) })
      return cupOf(shop, cup).alsoFor
    }
    expect(poured('FFFF2222', [BASE_CUP])).toEqual([OTHER])
    expect(poured('GGGG2222', [BASE_CUP, 'EEEE2222'])).toBeUndefined()
  })

  test('has a label that names neither: for a scan it is stock of that color', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    expect(cupLabelOf(shop.state, BASE_CUP)).toMatchObject({ job: null, colourCode: 'W-1' })
    const one = mix(threeJobs(), BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
    expect(cupLabelOf(one.state, BASE_CUP)).toMatchObject({ job: JOB })
  })
})

describe('a late mix for a second job that is not known yet', () => {
  const late = (more: object = {}) => {
    const shop = threeJobs()
    const mixed = { cup: BASE_CUP, sheet: BASE.sheet, totalMl: 500, ...both, alsoFor: [LATE_JOB] }
    shop.at(60).do('MixCup', { ...mixed, ...more }, { at: minute(5), enteredAt: minute(5) })
    return shop
  }
  const notKnown = (shop: Shop) =>
    longAwaited(shop.state, minute(70)).map(({ kind, id, entries }) => [kind, id, entries.length])

  test('is taken, and that job is on the list of what is not known, after its ten minutes', () => {
    const shop = late()
    expect(cupOf(shop, BASE_CUP).alsoFor).toEqual([LATE_JOB])
    expect(longAwaited(shop.state, minute(70) - 1)).toEqual([])
    expect(notKnown(shop)).toEqual([['job', LATE_JOB, 1]])
    // Its own job is known: nothing is said of the mix itself.
    expect(shop.entries.find(({ type }) => type === 'CupMixed')?.outside).toBeUndefined()
  })

  test('waits for both where neither is known, each for itself', () => {
    expect(notKnown(late({ job: 'QQQQ2222' }))).toEqual([
      ['job', 'QQQQ2222', 1],
      ['job', LATE_JOB, 1],
    ])
  })

  test('is off that list once the job is opened, and in its history from its mixing on', () => {
    const shop = late()
    shop.do('OpenJob', { job: LATE_JOB, title: 'Late job' })
    expect(notKnown(shop)).toEqual([])
    expect(shop.state.things.job[LATE_JOB]?.entries.map(({ type }) => type)).toContain('CupShared')
  })

  test('what is poured on from it names that job again', () => {
    const shop = late()
    shop.do('PourCup', { cup: 'FFFF2222', from: [{ cup: BASE_CUP, ml: 50 }] })
    expect(notKnown(shop.at(90))).toEqual([['job', LATE_JOB, 2]])
  })
})

describe('what is told of it', () => {
  test('its mixing names the other jobs in the history, by their titles', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, { ...both, tint: 'T1' })
    const mixed = shop.entries.find(({ type }) => type === 'CupMixed')
    if (!mixed) throw new Error('not mixed')
    const names = { ...namesIn(shop.state), sheet: sheetNames(shop.state) }
    const facts = factsOf(mixed, shop.entries, new Set(), { ...SAY, names })
    expect(facts).toContainEqual({ word: 'Also for', text: 'Job roof' })
    expect(facts).toContainEqual({ word: 'Tinted by hand', text: 'T1' })
  })

  const toldOf = (shop: Shop, of: string) => {
    const own = shop.entries.filter(({ job }) => job === of)
    const entriesOf = ({ kind, id }: ThingRef) =>
      shop.entries.filter((e) => e[kind as 'cup'] === id)
    return relatedEntries(own, entriesOf).entries.map(({ type, cup }) => `${type} ${cup}`)
  }

  test('it is in the history of the other job from its mixing on, and in that of no third one', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    shop.do('PrintLabel', { cup: BASE_CUP })
    expect(toldOf(shop, OTHER)).toContain(`CupMixed ${BASE_CUP}`)
    expect(toldOf(shop, OTHER)).toContain(`CupLabelPrinted ${BASE_CUP}`)
    expect(toldOf(shop, RED)).not.toContain(`CupMixed ${BASE_CUP}`)
    const one = mix(threeJobs(), BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
    expect(toldOf(one, OTHER)).not.toContain(`CupMixed ${BASE_CUP}`)
  })

  test('what is poured of it stands there too, and both are gone when it was a mistake', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    const mixing = shop.entries.at(-1)?.command
    const pour = shop.do('PourCup', { cup: 'FFFF2222', from: [{ cup: BASE_CUP, ml: 50 }] })
    expect(toldOf(shop, OTHER)).toContain('CupPoured FFFF2222')
    const voided = (type: string) =>
      shop.entries.filter((e) => e.type === 'EntryVoided' && e.data.type === type)
    shop.do('VoidEntry', { entry: pour[0]?.id, reason: 'another cup' })
    expect(voided('CupShared').map(({ job }) => job)).toEqual([OTHER])
    // Voided from the one job's history it is no cup of the other's either.
    const mixed = shop.entries.find((e) => e.command === mixing && e.type === 'CupMixed')
    shop.do('VoidEntry', { entry: mixed?.id, reason: 'another color' })
    expect(voided('CupShared')).toHaveLength(2)
    expect(toldOf(shop, OTHER)).toContain(`EntryVoided ${BASE_CUP}`)
  })

  test('a kiosk without its server shows it there as well', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    expect(entriesHere(shop.state, OTHER).map(({ type }) => type)).toContain('CupMixed')
    expect(entriesHere(shop.state, RED).map(({ type }) => type)).not.toContain('CupMixed')
  })

  test('poured wrong it keeps both jobs from being closed, the other one only if it is on it', () => {
    const shop = threeJobs()
    shop.at(1)
    const weighed = BASE.components.map((_, i) => (i === 0 ? 400 : 20))
    mix(shop, BASE_CUP, BASE.sheet, { ...both, pouredG: weighed })
    shop.do('EmptyCup', { cup: BASE_CUP, how: 'discarded' })
    // Pressed on a kiosk without a server, after the cup was thrown away.
    for (const panels of [[VAN], [CAR]])
      queued(shop.at(9), 2, 'StartCoat', { panels, cup: BASE_CUP })
    queued(shop.at(10), 3, 'PrintLabel', { cup: BASE_CUP })
    expect(openDeviations(shop.state, JOB, [VAN])).not.toEqual([])
    expect(openDeviations(shop.state, OTHER, [])).toEqual([])
    expect(openDeviations(shop.state, OTHER, [CAR])).not.toEqual([])
  })
})

describe('a plan', () => {
  /** When the car's first coat may begin, minutes from now, and whether a cup is mixed for it. */
  const first = (shop: Shop, panel: string) => {
    const { acts, atMs } = forecastOf(shop.state, shop.now, {})
    const act = acts.find((one) => one.panel === panel)
    const fromMin = ((act?.setUpFromMs ?? act?.fromMs ?? Number.NaN) - atMs) / 60_000
    return { fromMin, isFresh: act?.isFreshCup === true }
  }

  test('reckons with it for each of its jobs', () => {
    const two = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    expect([first(two, VAN).isFresh, first(two, CAR).isFresh]).toEqual([false, false])
    expect(first(two, RED_DOOR).isFresh).toBe(true)
    const one = mix(threeJobs(), BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
    expect([first(one, VAN).isFresh, first(one, CAR).isFresh]).toEqual([false, true])
  })

  test('cleans the gun for another code of the same name, and not for the same code of another name', () => {
    const shop = mix(threeJobs(), BASE_CUP, BASE.sheet, both)
    shop.do('SaveGun', { gun: 'gun-1' })
    shop.do('LoadGun', { gun: 'gun-1', cup: BASE_CUP })
    const setUp = (panel: string) => {
      const act = forecastOf(shop.state, shop.now, {}).acts.find((one) => one.panel === panel)
      return ((act?.fromMs ?? 0) - (act?.setUpFromMs ?? act?.fromMs ?? 0)) / 60_000
    }
    // Mixing takes 5 min and so does cleaning.
    expect([setUp(VAN), setUp(CAR), setUp(RED_DOOR)]).toEqual([0, 0, 10])
  })
})

describe('on the Bench', () => {
  const sheet = asSaved(BASE)
  const drafted = (shop: Shop, more: object = {}) =>
    filled(
      shop.state,
      { ...NEW_DRAFT, sheet: BASE.sheet, job: JOB, colour: 'body', ...more },
      [{ ...sheet }],
      minute(1),
    )

  test('the panels of the other vehicle stand behind its own, named and not chosen', () => {
    const it = drafted(threeJobs())
    expect(it.panels.map(({ name }) => name)).toEqual(['Door', 'Door (Job roof)'])
    expect(it.chosen).toEqual([VAN])
    expect(alsoFor(it)).toEqual([])
  })

  test('touched, they count in the amount, and the cup is for both', () => {
    const shop = threeJobs()
    const it = drafted(shop, { panels: [VAN, CAR] })
    expect(it.neededMl).toBeGreaterThan(1.9 * (drafted(shop).neededMl ?? 0) - 10)
    expect(it.areaM2).toBe(2)
    expect(alsoFor(it)).toEqual([OTHER])
  })

  test('of another variant, or without a color, nothing is offered', () => {
    expect(drafted(threeJobs('B')).panels.map(({ id }) => id)).toEqual([VAN])
    const shop = threeJobs()
    shop.do('PauseJob', { job: OTHER })
    expect(drafted(shop).panels.map(({ id }) => id)).toEqual([VAN])
  })
})
