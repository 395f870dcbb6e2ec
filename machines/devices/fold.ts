import { SETTINGS_ID } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'
import type { ClockStep, DevicesContext, Said, SoundTest } from './context.ts'
import type { Level } from './level.ts'

const BLANK: DevicesContext = { levels: [], tests: [], slept: [], floods: [], clock: [] }

const saidBy = ({ at, by, device }: Draft): Said => ({ at, by, device })

function reduce(devices: DevicesContext, entry: Draft): DevicesContext {
  if (entry.type === 'LevelCommissioned') {
    const { passed: _, ...level } = entry.data as Level & { passed: boolean }
    const others = devices.levels.filter(({ place }) => place !== level.place)
    return { ...devices, levels: [...others, { ...level, ...saidBy(entry), entry: entry.id }] }
  }
  if (entry.type === 'SoundTested') {
    const test = { ...(entry.data as Pick<SoundTest, 'pattern' | 'heard'>), ...saidBy(entry) }
    const isSame = (one: SoundTest) =>
      one.pattern === test.pattern && one.place === (test as SoundTest).place
    return { ...devices, tests: [...devices.tests.filter((one) => !isSame(one)), test] }
  }
  if (entry.type === 'BellFlood') {
    const flood = { at: entry.at, device: entry.device, isOn: entry.data.isOn === true }
    const others = devices.floods.filter(({ device }) => device !== flood.device)
    return { ...devices, floods: [...others, flood] }
  }
  if (entry.type === 'ClockJumped' || entry.type === 'ClockConfirmed') {
    const { fromMs, toMs } = entry.data as Pick<ClockStep, 'fromMs' | 'toMs'>
    const kind = entry.type === 'ClockJumped' ? 'jumped' : 'confirmed'
    return { ...devices, clock: [...devices.clock, { kind, fromMs, toMs, ...saidBy(entry) }] }
  }
  return { ...devices, slept: [...devices.slept, { at: entry.at, device: entry.device }] }
}

export const devicesFolder = plainFolder<DevicesContext>(BLANK, reduce)

/** All kiosks of a shop are one thing: a device's name goes with its browser's data. */
export const DEVICES = { kind: 'devices', id: SETTINGS_ID } as const

export const devicesOf = (state: State): DevicesContext =>
  contextOf(state, DEVICES.kind, DEVICES.id) ?? BLANK
