import { savedLate } from '../climate/letGo.ts'
import type { CommandData } from '../commands.ts'
import {
  type Deciding,
  type Decision,
  knownIds,
  type NewFact,
  refused,
  unknown,
} from '../deciding.ts'
import { previewOf } from '../sheet/file.ts'
import type { Sheet } from '../sheet/schema.ts'
import { contextOf } from '../state.ts'

/** What a shop sets up: sheets, guns, zones, settings. Nothing here is judged; it is typed in. */

export function saveSheet(d: Deciding<'SaveSheet', CommandData<'SaveSheet'>>): Decision {
  return { facts: [sheetFact(d, d.data.sheet)] }
}

function sheetFact(d: Deciding, sheet: Sheet): NewFact {
  const versions = contextOf(d.state, 'sheet', sheet.sheet)?.versions ?? []
  const version = 1 + Math.max(0, ...versions.map((v) => v.version))
  return { type: 'SheetSaved', keys: { sheet: sheet.sheet }, data: { sheet, version } }
}

/** The sheets of a file: each that is new or changed as a version of its own. */
export function importSheets(d: Deciding<'ImportSheets', CommandData<'ImportSheets'>>): Decision {
  const { sheets } = d.data
  const previews = previewOf(d.state, sheets)
  const facts = sheets
    .filter((_, i) => previews[i]?.is !== 'same')
    .map((sheet) => sheetFact(d, sheet))
  return { facts }
}

/** A retired sheet keeps what was mixed from it alive; nothing new is mixed or routed with it. */
export function retireSheet(d: Deciding<'RetireSheet', CommandData<'RetireSheet'>>): Decision {
  const { sheet } = d.data
  const context = contextOf(d.state, 'sheet', sheet)
  if (!context || context.versions.length === 0) {
    return refused(unknown('sheet', sheet, knownIds(d.state, 'sheet')))
  }
  return {
    facts: context.retiredAt === null ? [{ type: 'SheetRetired', keys: { sheet }, data: {} }] : [],
  }
}

/** What the shop does where a sheet is silent. The last word counts. */
export function setShopFigure(
  d: Deciding<'SetShopFigure', CommandData<'SetShopFigure'>>,
): Decision {
  const { sheet, ...figure } = d.data
  if (!contextOf(d.state, 'sheet', sheet)) {
    return refused(unknown('sheet', sheet, knownIds(d.state, 'sheet')))
  }
  return { facts: [{ type: 'ShopFigureSet', keys: { sheet }, data: figure }] }
}

export function saveGun(d: Deciding<'SaveGun', CommandData<'SaveGun'>>): Decision {
  const { gun, ...spec } = d.data
  return { facts: [{ type: 'GunSaved', keys: { gun }, data: spec }] }
}

export function saveZone(d: Deciding<'SaveZone', CommandData<'SaveZone'>>): Decision {
  const { zone, ...spec } = d.data
  return { facts: [savedLate(d, zone, { type: 'ZoneSaved', keys: { zone }, data: spec })] }
}

export function changeSettings(
  d: Deciding<'ChangeSettings', CommandData<'ChangeSettings'>>,
): Decision {
  return { facts: [{ type: 'SettingsChanged', data: d.data }] }
}

export function saveAirSupply(
  d: Deciding<'SaveAirSupply', CommandData<'SaveAirSupply'>>,
): Decision {
  return { facts: [{ type: 'AirSupplySaved', data: d.data }] }
}
