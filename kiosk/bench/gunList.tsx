import { useSignal } from '@preact/signals'
import { COMMANDS } from '../../machines/commands.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { NumberField } from '../forms/numberField.tsx'
import { numberIn } from '../forms/spec.ts'
import { Answer } from '../ui/answer.tsx'
import { Choice } from '../ui/choice.tsx'
import { Fold } from '../ui/fold.tsx'
import { MixCautions } from './cautions.tsx'
import { type GunLine, gunLines } from './cups.ts'

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
  const { words } = useShop()
  const { bench } = words.value
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
        <button
          type="button"
          class="main"
          data-act="CleanGun"
          disabled={sending.value.busy}
          onClick={() => void clean()}
        >
          {bench.cleaned}
        </button>
      </div>
      <MixCautions sheet={sheet} isActivated />
    </div>
  )
}
