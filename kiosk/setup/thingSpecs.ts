import { ROLES } from '../../machines/people/context.ts'
import {
  choice,
  type Fields,
  group,
  may,
  measured,
  need,
  number,
  text,
  yesNo,
} from '../forms/spec.ts'

/** The forms of guns, compressors, zones, people and the shop. */

export const GUN: Fields = {
  name: need(text),
  needleMm: may(number('mm')),
  airLpm: may(number('L/min')),
  inletKpa: may(measured('pressure')),
}

export const AIR_SUPPLY: Fields = {
  name: may(text),
  receiverL: need(number('L')),
  freeAirLpm: need(number('L/min')),
  cutOutKpa: need(measured('pressure')),
}

export const ZONE: Fields = {
  name: need(text),
  clearanceMin: may(number('min')),
}

export const READING: Fields = {
  airC: need(measured('airTemperature')),
  rh: need(measured('fraction')),
  surfaceC: may(measured('airTemperature')),
}

export const PERSON: Fields = { name: need(text), role: need(choice(...ROLES)) }

export const LEVEL: Fields = {
  place: need(text),
  ambientDb: need(number('dB(A)')),
  signalDb: need(number('dB(A)')),
  thirdOctaveDb: may(number('dB')),
  siteSignedOff: may(yesNo),
}

export const SHOP: Fields = {
  shopName: may(text),
  timeZone: may(text),
  hours: may(group({ opensAt: need(text), closesAt: need(text) })),
  bells: may(
    group({
      escalateAfterS: may(group({ first: need(number('s')), second: need(number('s')) })),
      riseDb: may(number('dB')),
    }),
  ),
  limits: may(
    group({
      dewMarginC: may(measured('difference')),
      sprayMinPerM2: may(number('min/m²')),
    }),
  ),
}
