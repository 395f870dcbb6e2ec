import { CLEAR } from '../support/sheets.ts'

/** Commands that a real shop's clock accepts one after another: a whole small job in each cycle, one entry a command. */

export type Sent = { readonly id: string; readonly type: string; readonly data: object }

/** A clear that waits for nothing: real minutes would hold the load up. */
const NOW = [{ atC: 20, minutes: 0.001 }]
const QUICK = {
  ...{ ...CLEAR, sheet: 'quick-clear', name: 'Clear that waits for nothing' },
  ...{ coats: { least: 1, planned: 1, most: 20 }, flashBetween: NOW, flashBeforeNext: NOW },
  ...{ cure: { air: NOW }, limits: { minC: 10, maxC: 38, maxRh: 0.9 } },
  ready: { polish: [{ atC: 20, minutes: 0 }] },
}

const GUNS = 16

export const SETUP: readonly Sent[] = [
  { id: 'setup-sheet', type: 'SaveSheet', data: { sheet: QUICK } },
  ...['booth', 'bench'].flatMap((zone): Sent[] => [
    // With a time after which it is clear of isocyanates: else each coat of a week is held.
    { id: `setup-${zone}`, type: 'SaveZone', data: { zone, name: zone, clearanceMin: 30 } },
    {
      id: `setup-${zone}-air`,
      type: 'ReadClimate',
      data: { zone, airC: 21, rh: 0.5, surfaceC: 21 },
    },
  ]),
  ...Array.from({ length: GUNS }, (_, n) => ({
    id: `setup-gun-${n}`,
    type: 'SaveGun',
    data: { gun: `gun-${n}`, name: `Gun ${n + 1}`, needleMm: 1.3, airLpm: 20 },
  })),
]

/** The alphabet of ids, without signs that are mistaken for each other. */
const SIGNS = '23456789ABCDEFGHJKMNPQRSTVWXYZ'

/** A number as so many signs. */
function signs(number: number, length: number): string {
  let text = ''
  for (let rest = number; text.length < length; rest = Math.floor(rest / SIGNS.length))
    text = `${SIGNS[rest % SIGNS.length]}${text}`
  return text
}

/** The endless work of one client; each client has things of its own. */
export function* cycles(client: number): Generator<Sent, never> {
  let count = 0
  const send = (type: string, data: object): Sent => {
    count += 1
    return { id: `load-${client}-${count}`, type, data }
  }
  for (let cycle = 0; ; cycle += 1) {
    const own = `22${signs(client, 2)}${signs(cycle, 3)}`
    const [job, panel, cup] = [`J${own}`, `P${own}`, `C${own}`]
    const gun = `gun-${client % GUNS}`
    const route = [{ stage: 'clear', sheet: QUICK.sheet }, { stage: 'polish' }]
    const panelData = { job, panel, name: 'Rear quarter, right', operation: 'repair', areaM2: 0.9 }
    const mix = { cup, sheet: QUICK.sheet, totalMl: 600, job, activator: 'standard', lots: ['L-7'] }
    const airC = 20 + ((cycle * 3 + client) % 7)
    yield send('OpenJob', { job, title: 'Delivery van, rear corner', vehicle: 'van' })
    yield send('AddPanel', { ...panelData, route })
    yield send('AddNote', { job, text: 'Right rear corner, crease repaired; blend into the door.' })
    yield send('MixCup', mix)
    yield send('PrintLabel', { cup })
    yield send('LoadGun', { gun, cup })
    yield send('StartCoat', { panels: [panel], cup, gun })
    yield send('FinishCoat', { panels: [panel], cup })
    yield send('CleanGun', { gun })
    yield send('EmptyCup', { cup, how: 'used', leftMl: 20 })
    yield send('ReadClimate', { zone: 'booth', airC, rh: 0.5, surfaceC: 21 })
    yield send('PolishPanel', { panel })
    yield send('PassPanel', { panel })
    yield send('CloseJob', { job })
  }
}
