import * as v from 'valibot'
import { settingsOf } from '../../machines/shop/settings.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { NumberField } from '../forms/numberField.tsx'
import { Field } from '../forms/textField.tsx'
import { useDraft } from '../forms/useDraft.ts'
import { Answer } from '../ui/answer.tsx'
import { Choice } from '../ui/choice.tsx'
import { hashOf } from '../ui/route.ts'
import { fieldText, plainUnit, unitOf } from '../units/measure.ts'
import { MixCautions } from './cautions.tsx'
import { gunLines, otherUnit } from './cups.ts'
import { type CupFormProps, FormHead } from './formParts.tsx'
import { sheetOfCup } from './handCopy.ts'

const maybe = v.nullable(v.number())
const setSchema = v.object({
  gun: v.string(),
  isOther: v.boolean(),
  needleMm: maybe,
  inletKpa: maybe,
  turns: maybe,
})
type GunSet = v.InferOutput<typeof setSchema>
const START: GunSet = { gun: '', isOther: false, needleMm: null, inletKpa: null, turns: null }

/** Material from a cup into a gun: needle, pressure and turns as they are set, the sheet's beside them. */
export function LoadForm({ state, id, cup, now }: CupFormProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const decimal = format.value.comma
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
  const meant = inletKpa === null ? null : otherUnit(inletKpa, units?.pressure ?? 'bar')
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
  const shownPressure = (kpa: number) =>
    `${fieldText(pressure.fromSi(kpa), decimal, 1)} ${pressure.word}`
  const says = sheet?.gun && [
    `${fieldText(sheet.gun.needleMm, decimal)} mm`,
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
          unit={plainUnit('mm', 0.1)}
          least={0.1}
          onChange={(value) => put({ needleMm: value })}
        />
        <NumberField
          name="inletKpa"
          word={bench.pressure}
          value={inletKpa}
          unit={pressure}
          least={pressure.toSi(pressure.step)}
          onChange={(value) => put({ inletKpa: value })}
        />
        <NumberField
          name="turns"
          word={bench.turns}
          value={turns}
          unit={plainUnit('', 0.25)}
          least={0.25}
          onChange={(value) => put({ turns: value })}
        />
      </div>
      {meant !== null && inletKpa !== null && (
        <div class="acts">
          <p class="sentence" role="alert">
            {bench.askUnit(
              fieldText(pressure.fromSi(inletKpa), decimal, 1),
              pressure.word,
              `${fieldText(pressure.fromSi(inletKpa), decimal, 1)} ${meant.unit}`,
            )}
          </p>
          <button type="button" onClick={() => put({ inletKpa: meant.kpa })}>
            {fieldText(pressure.fromSi(inletKpa), decimal, 1)} {meant.unit}
          </button>
        </div>
      )}
      <p class="minor">{bench.gunPressure}</p>
      <Answer
        sending={sending.value}
        now={now}
        onOverride={(reason) => void again(reason).then(done)}
      />
      <div class="acts">
        <button
          type="button"
          class="main"
          data-act="LoadGun"
          disabled={sending.value.busy || set.gun === '' || meant !== null}
          onClick={() => void ask('LoadGun', data).then(isTaken).then(done)}
        >
          {bench.loaded}
        </button>
      </div>
      <MixCautions sheet={sheet} isActivated={cup.clocks.length > 0} />
    </div>
  )
}
