import type * as v from 'valibot'
import { COMMANDS, type CommandData } from '../../machines/commands.ts'
import type { GunContext } from '../../machines/gun/machine.ts'
import { isPresent } from '../../machines/people/fold.ts'
import type { AirSupply } from '../../machines/shop/airSupply.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { idFrom } from '../forms/draft.ts'
import { Form } from '../forms/form.tsx'
import type { Fields } from '../forms/spec.ts'
import { Answer } from '../ui/answer.tsx'
import { hashOf } from '../ui/route.ts'
import { shortLength } from '../units/format.ts'
import { AIR_SUPPLY, feedOf, GUN, PERSON, READING, ZONE } from './forms.ts'
import { BackHead, Retire, Rows } from './parts.tsx'

/** Guns, compressors, zones and people: a list each, and a form for one more or for a change. */

export type SectionProps = {
  readonly state: State
  readonly now: number
  readonly rest: readonly string[]
}

type ThingType = 'SaveGun' | 'SaveAirSupply' | 'SaveZone' | 'AddPerson'

type ThingFormProps = {
  readonly section: string
  readonly now: number
  readonly fields: Fields
  readonly type: ThingType
  /** The name of the id in the command. */
  readonly idKey: 'gun' | 'air' | 'zone' | 'person'
  readonly taken: readonly string[]
  readonly id?: string
  readonly original?: object
}

/** A new one gets an id of its name; a changed one keeps its own. */
function ThingForm({ section, now, fields, type, idKey, taken, id, original }: ThingFormProps) {
  const { words } = useShop()
  const schema: v.GenericSchema<unknown, CommandData<ThingType>> = COMMANDS[type]
  const complete = (value: object) => {
    const { name } = value as { name?: string }
    return { ...value, [idKey]: id ?? idFrom(name ?? section, taken) }
  }
  return (
    <Form
      key={id ?? 'new'}
      name={`${section}.${id ?? 'new'}`}
      fields={fields}
      {...(original ? { original } : {})}
      schema={schema}
      complete={complete}
      type={type}
      data={(value) => value}
      now={now}
      word={id === undefined ? words.value.setup.add : words.value.setup.save}
      onSaved={() => {
        if (id !== undefined) location.hash = hashOf('setup', section)
      }}
    />
  )
}

export function Guns({ state, now, rest: [id] }: SectionProps) {
  const { format } = useShop()
  const guns = Object.entries(state.things.gun).map(([gun, thing]) => ({
    id: gun,
    spec: thing.context.spec,
  }))
  const own = guns.find((gun) => gun.id === id)
  const form = { section: 'guns', now, fields: GUN, type: 'SaveGun', idKey: 'gun' } as const
  const taken = guns.map((gun) => gun.id)
  if (own) {
    return (
      <>
        <BackHead section="guns" title={own.spec?.name ?? own.id} />
        <ThingForm {...form} taken={taken} id={own.id} original={{ name: own.id, ...own.spec }} />
      </>
    )
  }
  const about = (spec: GunContext['spec']) =>
    [
      spec?.needleMm && `${format.value.number(spec.needleMm, 1)} mm`,
      spec?.airLpm && `${spec.airLpm} L/min`,
      spec?.inletKpa && format.value.pressure(spec.inletKpa),
    ]
      .filter(Boolean)
      .join(' · ')
  return (
    <>
      <Rows
        section="guns"
        rows={guns.map((gun) => ({
          id: gun.id,
          name: gun.spec?.name ?? gun.id,
          about: about(gun.spec),
        }))}
      />
      <ThingForm {...form} taken={taken} />
    </>
  )
}

export function Compressors({ state, now, rest: [id] }: SectionProps) {
  const all = Object.entries(state.things.air).flatMap(([air, thing]) => {
    const { spec } = thing.context
    return spec ? [{ id: air, spec }] : []
  })
  const own = all.find((supply) => supply.id === id)
  const form = {
    section: 'air',
    now,
    fields: AIR_SUPPLY,
    type: 'SaveAirSupply',
    idKey: 'air',
  } as const
  const taken = all.map((supply) => supply.id)
  if (own) {
    const { air: _, ...original } = own.spec
    return (
      <>
        <BackHead section="air" title={own.spec.name ?? own.id} />
        <Feeds state={state} supply={own.spec} />
        <ThingForm {...form} taken={taken} id={own.id} original={original} />
      </>
    )
  }
  return (
    <>
      {all.map((supply) => (
        <Feeds key={supply.id} state={state} supply={supply.spec} />
      ))}
      <Rows
        section="air"
        rows={all.map(({ id: air, spec }) => ({
          id: air,
          name: spec.name ?? air,
          about: `${spec.receiverL} L · ${spec.freeAirLpm} L/min`,
        }))}
      />
      <ThingForm {...form} taken={taken} />
    </>
  )
}

/** For each gun: whether this compressor keeps up with it. */
function Feeds({ state, supply }: { state: State; supply: AirSupply }) {
  const { words, format } = useShop()
  const { setup } = words.value
  const guns = Object.entries(state.things.gun)
  const say = (spec: GunContext['spec']): string => {
    const feed = feedOf(supply, spec)
    switch (feed.kind) {
      case 'unknown':
        return setup.unknownAir
      case 'tooLow':
        return setup.tooLow
      case 'sustained':
        return setup.sustained(`${format.value.number(feed.spareLpm, 0)} L/min`)
      case 'drawsDown':
        return setup.drawsDown(
          shortLength(feed.drawdownMin * 60_000),
          shortLength(feed.recoverMin * 60_000),
        )
    }
  }
  if (guns.length === 0) return null
  return (
    <section class="feeds">
      <h2>
        {setup.feeds} {supply.name ?? supply.air}
      </h2>
      <dl>
        {guns.map(([gun, thing]) => {
          const { spec } = thing.context
          return (
            <div key={gun} data-feeds={gun}>
              <dt>{spec?.name ?? gun}</dt>
              <dd>{say(spec)}</dd>
            </div>
          )
        })}
      </dl>
      <p class="minor">{setup.airCaution}</p>
    </section>
  )
}

export function Zones({ state, now, rest: [id] }: SectionProps) {
  const { setup } = useWords()
  const zones = Object.entries(state.things.zone).map(([zone, thing]) => ({
    id: zone,
    spec: thing.context.spec,
  }))
  const own = zones.find((zone) => zone.id === id)
  const form = { section: 'zones', now, fields: ZONE, type: 'SaveZone', idKey: 'zone' } as const
  const taken = zones.map((zone) => zone.id)
  if (own) {
    return (
      <>
        <BackHead section="zones" title={own.spec?.name ?? own.id} />
        <h2>{setup.readAir}</h2>
        <Form
          name={`reading.${own.id}`}
          fields={READING}
          schema={COMMANDS.ReadClimate}
          complete={(value) => ({ ...value, zone: own.id })}
          type="ReadClimate"
          data={(value) => value}
          now={now}
          word={setup.read}
        />
        <ThingForm {...form} taken={taken} id={own.id} original={{ name: own.id, ...own.spec }} />
        <p class="minor">{setup.clearanceNote}</p>
      </>
    )
  }
  return (
    <>
      <Rows
        section="zones"
        rows={zones.map((zone) => ({
          id: zone.id,
          name: zone.spec?.name ?? zone.id,
          about:
            zone.spec?.clearanceMin === undefined
              ? ''
              : `${setup.fields.clearanceMin} ${zone.spec.clearanceMin} min`,
        }))}
      />
      <ThingForm {...form} taken={taken} />
      <p class="minor">{setup.clearanceNote}</p>
    </>
  )
}

export function People({ state, now, rest: [id] }: SectionProps) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const person = contextOf(state, 'person', id)
  const form = {
    section: 'people',
    now,
    fields: PERSON,
    type: 'AddPerson',
    idKey: 'person',
  } as const
  const taken = Object.keys(state.things.person)
  if (id !== undefined && isPresent(person)) {
    const { name, role } = person
    return (
      <>
        <BackHead section="people" title={name} />
        <ThingForm {...form} taken={taken} id={id} original={{ name, role }} />
        <Answer sending={sending.value} now={now} />
        <Retire onHeld={() => void ask('RetirePerson', { person: id })} />
      </>
    )
  }
  const rows = Object.entries(state.things.person).flatMap(([key, thing]) => {
    const one = thing.context
    return isPresent(one)
      ? [{ id: key, name: one.name, about: words.value.board.roles[one.role] }]
      : []
  })
  return (
    <>
      <Rows section="people" rows={rows} />
      <ThingForm {...form} taken={taken} />
    </>
  )
}
