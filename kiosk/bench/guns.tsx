import { useSignal } from '@preact/signals'
import * as v from 'valibot'
import { COMMANDS } from '../../machines/commands.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { doubtOf } from '../forms/draft.ts'
import { Field, NumberField } from '../forms/fields.tsx'
import { numberIn } from '../forms/spec.ts'
import { useDraft } from '../forms/useDraft.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { dusted, fieldText, unitOf } from '../units/measure.ts'
import { type GunLine, gunLines, sheetOfCup } from './cups.ts'
import { type CupFormProps, FormHead, MixCautions } from './parts.tsx'

const SOLVENT = numberIn(COMMANDS.CleanGun, 'solventMl')

/** Guns, the one to clean first before the others. */
export function GunList({ state, now }: { state: State; now: number }) {
  const { words } = useShop()
  const lines = gunLines(state)
  if (lines.length === 0) return <p class="minor">{words.value.bench.noGuns}</p>
  return (
    <ul class="rows">
      {lines.map((gun) => (
        <GunCard key={gun.id} state={state} gun={gun} now={now} />
      ))}
    </ul>
  )
}

function GunCard({ state, gun, now }: { state: State; gun: GunLine; now: number }) {
  const { words, format } = useShop()
  const { bench } = words.value
  const said = [
    gun.holds === null
      ? bench.clean
      : bench.holds([gun.holds, gun.colour].filter((t) => t !== null).join(', ')),
    ...(gun.state === 'dirty' ? [bench.dirty] : []),
    ...(gun.endsAt === null ? [] : [bench.cleanBy(format.value.timeAndDay(gun.endsAt, now))]),
  ]
  return (
    <li class="cup-card" data-gun={gun.id} data-state={gun.state}>
      <p>
        <b>{gun.name}</b>
      </p>
      <p class="minor">{said.join(' · ')}</p>
      {gun.state !== 'clean' && (
        <Fold word={words.value.act.cleanGun} act="clean">
          <CleanForm state={state} gun={gun} now={now} />
        </Fold>
      )}
    </li>
  )
}

function CleanForm({ state, gun, now }: { state: State; gun: GunLine; now: number }) {
  const { bench } = useWords()
  const { sending, ask } = useCommands()
  const solvent = useSignal(bench.solvents[0] ?? '')
  const ml = useSignal<number | null>(null)
  const sheet = currentSheets(state).find((s) => s.sheet === gun.sheet)
  const clean = async () => {
    const sent = await ask('CleanGun', {
      gun: gun.id,
      ...(solvent.value === '' ? {} : { solvent: solvent.value }),
      ...(ml.value === null || ml.value <= 0 ? {} : { solventMl: ml.value }),
    })
    if (isTaken(sent)) ml.value = null
  }
  return (
    <div class="form">
      <Choice
        name="solvent"
        word={bench.cleanTitle}
        picked={solvent.value}
        options={[
          ...bench.solvents.map((name) => ({ value: name, word: name })),
          { value: '', word: bench.notSaid },
        ]}
        onPick={(name) => {
          solvent.value = name
        }}
      />
      <NumberField
        name="solventMl"
        word={bench.solventMl}
        value={ml.value}
        spec={SOLVENT}
        least={0}
        onChange={(value) => {
          ml.value = value
        }}
      />
      <Answer sending={sending.value} now={now} />
      <div class="acts">
        <Press act="CleanGun" isMain isOff={sending.value.busy} onPress={clean}>
          {bench.cleaned}
        </Press>
      </div>
      <MixCautions sheet={sheet} isActivated />
    </div>
  )
}

const NEEDLE = numberIn(COMMANDS.LoadGun, 'needleMm')
const PRESSURE = numberIn(COMMANDS.LoadGun, 'inletKpa')
const TURNS = numberIn(COMMANDS.LoadGun, 'turns')

const figure = v.optional(v.nullable(v.number()), null)
const setSchema = v.object({
  gun: v.optional(v.string(), ''),
  isOther: v.optional(v.boolean(), false),
  needleMm: figure,
  inletKpa: figure,
  turns: figure,
})
type GunSet = v.InferOutput<typeof setSchema>
const START: GunSet = v.parse(setSchema, {})

/** Material from a cup into a gun: needle, pressure and turns as they are set, the sheet's beside them. */
export function LoadForm({ state, id, cup, now }: CupFormProps) {
  const { bench } = useWords()
  const { sending, ask, again, clear } = useCommands()
  const kept = useDraft<GunSet>(`bench.load.${id}`, setSchema, () => START, localStorage)
  const { units } = settingsOf(state)
  const sheet = sheetOfCup(state, cup)
  const guns = gunLines(state)
  const set = kept.value
  const picked = guns.find((g) => g.id === set.gun)
  const pressure = unitOf('pressure', units)
  const needleMm = set.needleMm ?? picked?.needleMm ?? sheet?.gun?.needleMm ?? null
  const inletKpa = set.inletKpa ?? picked?.inletKpa ?? sheet?.gun?.inletKpa ?? null
  const turns = set.turns ?? sheet?.gun?.turns ?? null
  const isDoubtful =
    inletKpa !== null &&
    doubtOf(fieldText(dusted(pressure.fromSi(inletKpa))), 'pressure', units) !== null
  const put = (change: Partial<GunSet>) => {
    // An override is of what was refused: after a change it is asked anew.
    clear()
    kept.value = { ...kept.value, ...change }
  }
  const data = {
    gun: set.gun,
    cup: id,
    ...(needleMm === null ? {} : { needleMm }),
    ...(inletKpa === null ? {} : { inletKpa }),
    ...(turns === null ? {} : { turns }),
  }
  const done = (isTaken: boolean) => {
    if (!isTaken) return
    kept.value = START
    location.hash = hashOf('cups')
  }
  const shownPressure = (kpa: number) => `${fieldText(pressure.fromSi(kpa), 1)} ${pressure.word}`
  const says = sheet?.gun && [
    `${fieldText(sheet.gun.needleMm)} mm`,
    shownPressure(sheet.gun.inletKpa),
    `${sheet.gun.distanceCm} cm`,
  ]
  return (
    <div class="form">
      <FormHead title={bench.loadTitle(`${id.slice(0, 4)}, ${cup.name}`)} />
      <Choice
        name="gun"
        word={bench.gun}
        picked={set.isOther ? 'other' : `gun ${set.gun}`}
        options={[
          ...guns.map((g) => ({
            value: `gun ${g.id}`,
            word: g.name,
            small: g.holds === null ? bench.clean : bench.holds(g.holds),
          })),
          { value: 'other', word: bench.otherGun },
        ]}
        onPick={(value) => {
          put(
            value === 'other'
              ? { gun: '', isOther: true }
              : { gun: value.slice('gun '.length), isOther: false, needleMm: null, inletKpa: null },
          )
        }}
      />
      {set.isOther && (
        <Field
          name="gun"
          word={bench.gunName}
          value={set.gun}
          onInput={(gun) => put({ gun: gun.trim() })}
        />
      )}
      {says && <p class="minor">{bench.sheetSays(says.join(', '))}</p>}
      <div class="numbers">
        <NumberField
          name="needleMm"
          word={bench.needle}
          value={needleMm}
          spec={NEEDLE}
          step={0.1}
          onChange={(value) => put({ needleMm: value })}
        />
        <NumberField
          name="inletKpa"
          word={bench.pressure}
          value={inletKpa}
          spec={PRESSURE}
          onChange={(value) => put({ inletKpa: value })}
        />
        <NumberField
          name="turns"
          word={bench.turns}
          value={turns}
          spec={TURNS}
          step={0.25}
          onChange={(value) => put({ turns: value })}
        />
      </div>
      <p class="minor">{bench.gunPressure}</p>
      <Answer
        sending={sending.value}
        now={now}
        onOverride={(reason) => void again(reason).then(done)}
      />
      <div class="acts">
        <Press
          act="LoadGun"
          isMain
          isOff={sending.value.busy || set.gun === '' || isDoubtful}
          onPress={() => ask('LoadGun', data).then(isTaken).then(done)}
        >
          {bench.loaded}
        </Press>
      </div>
      <MixCautions sheet={sheet} isActivated={cup.clocks.length > 0} />
    </div>
  )
}
