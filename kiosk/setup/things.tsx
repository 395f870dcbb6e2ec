import type { ComponentChildren } from 'preact'
import type * as v from 'valibot'
import { isInUse } from '../../machines/climate/zones.ts'
import { COMMANDS, type CommandData } from '../../machines/commands.ts'
import type { GunContext } from '../../machines/gun/machine.ts'
import { isPresent } from '../../machines/people/fold.ts'
import type { AirSupply } from '../../machines/shop/airSupply.ts'
import type { State } from '../../machines/state.ts'
import { PISTON_DUTY } from '../../machines/trade/air.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { idFrom } from '../forms/draft.ts'
import { Form } from '../forms/form.tsx'
import type { Fields } from '../forms/spec.ts'
import { Answer } from '../ui/answer.tsx'
import { hashOf } from '../ui/route.ts'
import { shortLength } from '../units/format.ts'
import { setupIn } from '../words/setupIn.ts'
import { AIR_SUPPLY, feedOf, GUN, PERSON, zoneFields } from './forms.ts'
import { BackHead, Retire, Rows } from './parts.tsx'

/** Guns, compressors, zones and people: a list each, and a form for one more or for a change. */

export type SectionProps = {
  readonly state: State
  readonly now: number
  readonly rest: readonly string[]
}

type ThingType = 'SaveGun' | 'SaveAirSupply' | 'SaveZone' | 'AddPerson'

/** One of the things in a section, and what its form is filled from. */
type Thing = {
  readonly id: string
  readonly name: string
  readonly about: string
  readonly original: object
}

type ThingsProps = Pick<SectionProps, 'now' | 'rest'> & {
  readonly section: string
  readonly fields: Fields
  readonly type: ThingType
  /** The name of the id in the command. */
  readonly idKey: 'gun' | 'air' | 'zone' | 'person'
  readonly things: readonly Thing[]
  /** What is proposed for a new one. */
  readonly usual?: object
  /** Ids that a new one may not have, where more than the shown things have one. */
  readonly taken?: readonly string[]
  /** What stands above the form of one. */
  readonly above?: (thing: Thing) => ComponentChildren
  /** What stands below every form. */
  readonly children?: ComponentChildren
}

/** The things of a section with a form for one more; or one of them, to be changed. */
function Things({ section, things, above, children, rest: [id], ...form }: ThingsProps) {
  const own = things.find((thing) => thing.id === id)
  const taken = form.taken ?? things.map((thing) => thing.id)
  return (
    <>
      {own ? (
        <BackHead section={section} title={own.name} />
      ) : (
        <Rows section={section} rows={things} />
      )}
      {own && above?.(own)}
      <ThingForm key={own?.id ?? ''} {...form} section={section} own={own} taken={taken} />
      {children}
    </>
  )
}

type FormKey = 'section' | 'now' | 'fields' | 'type' | 'idKey' | 'usual'
type ThingFormProps = Pick<ThingsProps, FormKey> & {
  readonly own: Thing | undefined
  readonly taken: readonly string[]
}

/** A new one gets an id of its name; a changed one keeps its own. */
function ThingForm({ section, now, fields, type, idKey, usual, own, taken }: ThingFormProps) {
  const setup = setupIn(useWords())
  const schema: v.GenericSchema<unknown, CommandData<ThingType>> = COMMANDS[type]
  const complete = (value: object) => {
    const { name } = value as { name?: string }
    return { ...value, [idKey]: own?.id ?? idFrom(name ?? section, taken) }
  }
  return (
    <Form
      name={`${section}.${own?.id ?? 'new'}`}
      fields={fields}
      original={own?.original ?? usual}
      isStored={own !== undefined}
      schema={schema}
      complete={complete}
      type={type}
      data={(value) => value}
      now={now}
      word={own ? setup.save : setup.add}
      onSaved={() => {
        if (own) location.hash = hashOf('setup', section)
      }}
    />
  )
}

/** Guns or zones as rows, named as they were set up. */
const listed = <S extends { readonly name?: string }>(
  all: { readonly [id: string]: { readonly context: { readonly spec: S | null } } },
  about: (spec: S | null) => string,
): Thing[] =>
  Object.entries(all).map(([id, { context }]) => ({
    id,
    name: context.spec?.name ?? id,
    about: about(context.spec),
    original: { name: id, ...context.spec },
  }))

export function Guns({ state, now, rest }: SectionProps) {
  const { number, pressure } = useShop().format.value
  const about = (spec: GunContext['spec']) =>
    [
      spec?.needleMm && `${number(spec.needleMm, 1)} mm`,
      spec?.airLpm && `${spec.airLpm} L/min`,
      spec?.inletKpa && pressure(spec.inletKpa),
    ]
      .filter(Boolean)
      .join(' · ')
  const things = listed(state.things.gun, about)
  return (
    <Things {...{ now, rest, things }} section="guns" fields={GUN} type="SaveGun" idKey="gun" />
  )
}

export function Compressors({ state, now, rest }: SectionProps) {
  const supplies = Object.values(state.things.air).flatMap(({ context: { spec } }) => spec ?? [])
  const things = supplies.map(({ air: id, ...spec }) => ({
    id,
    name: spec.name ?? id,
    about: `${spec.receiverL} L · ${spec.freeAirLpm} L/min`,
    original: spec,
  }))
  const shown = supplies.filter(({ air }) => air === rest[0])
  return (
    <>
      {shown.length === 0 &&
        supplies.map((supply) => <Feeds key={supply.air} state={state} supply={supply} />)}
      <Things
        {...{ now, rest, things }}
        section="air"
        fields={AIR_SUPPLY}
        type="SaveAirSupply"
        idKey="air"
        usual={{ duty: PISTON_DUTY }}
        above={() =>
          shown.map((supply) => <Feeds key={supply.air} state={state} supply={supply} />)
        }
      />
    </>
  )
}

/** For each gun: whether this compressor keeps up with it. */
function Feeds({ state, supply }: { state: State; supply: AirSupply }) {
  const { words, format } = useShop()
  const setup = setupIn(words.value)
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

export function Zones({ state, now, rest }: SectionProps) {
  const setup = setupIn(useWords())
  const things = listed(state.things.zone, (spec) =>
    [
      ...(spec?.clearanceMin === undefined
        ? []
        : [`${setup.fields.clearanceMin} ${spec.clearanceMin} min`]),
      ...(isInUse(spec) ? [] : [setup.notUsed]),
    ].join(' · '),
  )
  const others = Object.keys(state.things.zone).filter((zone) => zone !== rest[0])
  return (
    <Things
      {...{ now, rest, things }}
      section="zones"
      fields={zoneFields(others)}
      type="SaveZone"
      idKey="zone"
      above={({ id }) => (
        <a class="button" data-act="readAir" href={hashOf('air', id)}>
          {setup.readAir}
        </a>
      )}
    >
      <p class="minor">{setup.clearanceNote}</p>
    </Things>
  )
}

export function People({ state, now, rest }: SectionProps) {
  const { who } = useWords()
  const { sending, ask } = useCommands()
  const things = Object.entries(state.things.person).flatMap(([id, { context: person }]) => {
    if (!isPresent(person)) return []
    const { name, role } = person
    return [{ id, name, about: who.roles[role], original: { name, role } }]
  })
  const own = things.find(({ id }) => id === rest[0])
  return (
    <Things
      {...{ now, rest, things }}
      section="people"
      fields={PERSON}
      type="AddPerson"
      idKey="person"
      taken={Object.keys(state.things.person)}
    >
      {own && (
        <>
          <Answer sending={sending.value} now={now} />
          <Retire onHeld={() => void ask('RetirePerson', { person: own.id })} />
        </>
      )}
    </Things>
  )
}
