import { describe, expect, test } from 'vitest'
import { entriesHere, type Line, linesOf, stepsHere } from '../../kiosk/jobs/historyLines.ts'
import { namesIn, stateText } from '../../kiosk/jobs/names.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import type { Words } from '../../kiosk/words/en.ts'
import { historyIn } from '../../kiosk/words/historyIn.ts'
import { EVENTS, type EventType } from '../../machines/catalog.ts'
import { cupMachine } from '../../machines/cup/machine.ts'
import type { Draft } from '../../machines/envelope.ts'
import { gunMachine } from '../../machines/gun/machine.ts'
import { jobMachine } from '../../machines/job/machine.ts'
import { panelMachine } from '../../machines/panel/machine.ts'
import { SPRAYED } from '../../machines/sheet/schema.ts'
import { leavesOf } from '../machines/graph/paths.ts'
import { minute, type Shop } from '../support/shop.ts'
import { CUP, DOOR, JOB, SAY, vanShop } from './historyShop.ts'

/** That no entry is without words in the history, and what it says of one that does not count. */

describe.each([
  ['English', en],
  ['Spanish', es],
])('in %s', (_, words) => {
  /** Ids that nobody could read, of things that all have names. */
  const IDS = { gun: 'gun-7781', zone: 'zone-7782', person: 'person-7783', panel: DOOR }
  function namedShop(): Shop {
    const shop = vanShop()
    shop.do('SaveGun', { gun: IDS.gun, name: 'Blue gun' })
    shop.do('SaveZone', { zone: IDS.zone, name: 'Spray booth' })
    shop.do('AddPerson', { person: IDS.person, name: 'Painter One', role: 'painter' })
    return shop
  }
  const toldIn = (shop: Shop, entries: readonly Draft[]): Line[] =>
    linesOf(entries, { ...SAY, words, names: namesIn(shop.state) })
  const said = ({ what, panel, by, reason }: Line | undefined = {} as Line) =>
    [what, panel, by, reason].join(' | ')

  test.each(Object.keys(EVENTS))('%s has words, and names stand in it instead of ids', (type) => {
    const shop = namedShop()
    const [added] = shop.entries.filter((entry) => entry.type === 'PanelAdded')
    if (added === undefined) throw new Error('no panel')
    const { gun, zone, person } = IDS
    // Every key and field that any entry has: whatever a line says of them, it is not an id.
    const data = { zone, gun, person, by: person, panels: [DOOR], key: `coatReady:${DOOR}:1:1` }
    const entry: Draft = {
      ...{ ...added, id: 'x.0', type, at: added.at + 1, by: person },
      ...{ gun, zone, cup: CUP, data },
    }
    const line = toldIn(shop, [added, entry]).find(({ id }) => id === entry.id)
    const name = historyIn(words).events[type as EventType]
    expect(name).not.toBe(type)
    expect(line?.what.startsWith(name)).toBe(true)
    for (const id of [...Object.values(IDS), CUP, JOB]) expect(said(line)).not.toContain(id)
    expect(line?.by).toBe('Painter One')
    expect(line?.panel).toBe('Sliding door')
  })

  test('a gun, a zone and a person are called by their names; what was never named, by its id', () => {
    const shop = namedShop()
    shop.do('LoadGun', { gun: IDS.gun, cup: CUP }, { by: IDS.person })
    shop.do('CleanGun', { gun: IDS.gun })
    shop.do('CleanGun', { gun: 'gun-2' })
    shop.do('MovePanel', { panel: DOOR, zone: IDS.zone })
    shop.do('MovePanel', { panel: DOOR, zone: 'yard' })
    const { events } = historyIn(words)
    const lines = toldIn(shop, shop.entries)
    const what = (type: string) => lines.filter((line) => line.type === type).map((l) => l.what)
    expect(what('GunCleaned')).toEqual([
      `${events.GunCleaned} · Blue gun`,
      `${events.GunCleaned} · gun-2`,
    ])
    expect(what('PanelMoved')).toEqual([
      `${events.PanelMoved} · Spray booth`,
      `${events.PanelMoved} · yard`,
    ])
    expect(lines.find(({ type }) => type === 'GunLoaded')?.by).toBe('Painter One')
  })

  test('exactly the states of the charts have names', () => {
    const names = (kind: keyof typeof MACHINES) => Object.keys(words.states[kind]).sort()
    for (const kind of ['job', 'cup', 'gun'] as const)
      expect(names(kind)).toEqual(leavesOf(MACHINES[kind]).sort())
    const walk = leavesOf(panelMachine).flatMap((leaf) =>
      leaf.startsWith('route.') ? [leaf.slice('route.'.length)] : [],
    )
    const phase = (path: string) =>
      SPRAYED.some((stage) => path.startsWith(`${stage}.`)) ? (path.split('.')[1] ?? '') : path
    expect(names('panel')).toEqual([...new Set(walk.map(phase))].sort())
    for (const state of walk) {
      const text = stateText({ kind: 'panel', state }, words)
      expect([text, text.includes('undefined')]).toEqual([expect.stringMatching(/\S/), false])
    }
  })
})

const MACHINES = { job: jobMachine, panel: panelMachine, cup: cupMachine, gun: gunMachine }

describe('a line of a panel', () => {
  test.each([
    ['English', en, 'clear'],
    ['Spanish', es, es.stage.clear],
  ])('says in %s what the panel came to, where the entry itself does not', (_, words, clear) => {
    const shop = vanShop()
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    for (const at of [0, 15]) {
      shop.at(at).do('StartCoat', { panels: [DOOR], cup: CUP })
      shop.at(at + 2).do('FinishCoat', { panels: [DOOR] })
    }
    shop.at(40).do('SendBackPanel', { panel: DOOR, toStep: 1, done: 0, reason: 'EQUIPMENT' })
    shop.at(41).do('AbradePanel', { panel: DOOR, grit: 1000 })
    const own = entriesHere(shop.state, JOB)
    const told = linesOf(own, { ...SAY, words }, stepsHere(shop.state, own))
    const { panel } = words.states
    expect(told.flatMap(({ type, came }) => (came === null ? [] : [[type, came]]))).toEqual([
      ['PanelAdded', `→ ${panel.prep}`],
      ['PrepStepDone', `→ ${clear}, ${panel.due}`],
      ['CoatFinished', `→ ${clear}, ${panel.between}`],
      ['CoatFinished', `→ ${panel['cure.due']}`],
      ['PanelSentBack', `→ ${clear}, ${panel.sentBack}`],
    ])
  })
})

describe('an entry that does not count', () => {
  /** Two kiosks were offline, and each of them has somebody start the same panel. */
  function twoStarts(): Shop {
    const shop = vanShop()
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    const start = (min: number, device: string) =>
      shop
        .at(30)
        .do(
          'StartCoat',
          { panels: [DOOR], cup: CUP },
          { at: minute(min), enteredAt: minute(min), device, seq: 1 },
        )
    start(6, 'kiosk-b')
    start(5, 'kiosk-a')
    return shop
  }
  const told = (shop: Shop, words: Words) => {
    const own = entriesHere(shop.state, JOB)
    const say = { ...SAY, words, names: namesIn(shop.state) }
    return linesOf(own, say, stepsHere(shop.state, own))
  }

  test('is kept and says so, with the state of its panel at that time', () => {
    const shop = twoStarts()
    const starts = (words: Words) =>
      told(shop, words)
        .filter(({ type }) => type === 'CoatStarted')
        .map(({ at, notTaken, mayVoid }) => [at, notTaken, mayVoid])
    expect(starts(en)).toEqual([
      [minute(5), [], true],
      [minute(6), ['the panel was at “clear, being sprayed”'], true],
    ])
    expect(starts(es)[1]?.[1]).toEqual([`el panel estaba en «${es.stage.clear}, aplicándose»`])
  })

  test('counts again once the entry that blocked it is voided', () => {
    const shop = twoStarts()
    const first = told(shop, en).find(({ type }) => type === 'CoatStarted')
    shop.do('VoidEntry', { entry: first?.id, reason: 'DUPLICATE' })
    expect(told(shop, en).flatMap(({ notTaken }) => notTaken)).toEqual([])
  })

  test('of a cup or job gives its state at that time', () => {
    const shop = vanShop()
    shop.at(10).do('PrintLabel', { cup: CUP })
    const queued = (min: number) => ({ at: minute(min), enteredAt: minute(min), device: 'kiosk-b' })
    shop.at(40).do('EmptyCup', { cup: CUP, how: 'discarded' }, queued(5))
    shop.do('AddNote', { job: JOB, text: 'Dent in the sill' }, queued(-5))
    const left = told(shop, en).filter(({ notTaken }) => notTaken.length > 0)
    expect(left.map(({ type, notTaken }) => [type, ...notTaken])).toEqual([
      ['NoteAdded', 'the job was “not open yet”'],
      ['CupLabelPrinted', 'the cup was “empty”'],
    ])
  })
})
