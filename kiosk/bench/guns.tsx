import { useLayoutEffect } from 'preact/hooks'
import { COMMANDS } from '../../machines/commands.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { keepEndsAt } from '../../machines/cup/keep.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { blank, doubtOf, groupIn } from '../forms/draft.ts'
import { Form, FormOf, useFormDraft } from '../forms/form.tsx'
import { fieldsOf } from '../forms/spec.ts'
import { IntoCleanCup } from '../lanes/cleanCup.tsx'
import { CupWay } from '../lanes/cupWay.tsx'
import { type GunLine, gunLines } from '../lanes/gunLines.ts'
import { CleanFirst, MixFirst } from '../lanes/ways.tsx'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Fold, worded } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { fieldText, typedMeasure } from '../units/measure.ts'
import * as ownWords from '../words/cupPage.ts'
import { useOwnWords } from '../words/words.ts'
import { backInto, sheetOfCup } from './cups.ts'
import { type CupFormProps, FormHead, MixCautions } from './parts.tsx'

/** So many cups have a key on a gun's card: its own, and the next that end. */
const CUPS_OFFERED = 3

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
  const { sending, ask, again, clear } = useCommands()
  const { bench } = words.value
  const said = [
    gun.holds === null
      ? words.value.states.gun[gun.state]
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
      {gun.state === 'loaded' && (
        <div class="acts">
          {gun.endsAt !== null && (
            <Press
              act="RinseGun"
              isOff={sending.value.busy}
              onPress={() => ask('RinseGun', { gun: gun.id })}
            >
              {words.value.act.rinseGun}
            </Press>
          )}
          {backInto(state, gun, now)
            .slice(0, CUPS_OFFERED)
            .map(({ id, soonerMs }) => (
              <Press
                key={id}
                act="PourBack"
                isOff={sending.value.busy}
                onPress={() => ask('PourBack', { gun: gun.id, cup: id })}
              >
                <span>
                  {bench.pourBack(id.slice(0, 4))}
                  {soonerMs !== null && (
                    <small>{bench.takesGunTime(format.value.timeAndDay(soonerMs, now))}</small>
                  )}
                </span>
              </Press>
            ))}
        </div>
      )}
      <Answer
        sending={sending.value}
        now={now}
        // What a cup does not take back is cleaned out.
        wayOut={() => <CleanFirst {...{ state, now }} guns={[gun.id]} onTaken={clear} />}
        onOverride={(reason) => void again(reason)}
      />
      <IntoCleanCup state={state} gun={gun.id} now={now} />
      {gun.state !== 'clean' && (
        <Fold word={words.value.act.cleanGun} act="clean">
          <CleanForm state={state} gun={gun} now={now} />
        </Fold>
      )}
    </li>
  )
}

const CLEAN = fieldsOf(COMMANDS.CleanGun, { without: ['gun'], steps: { solventMl: 'unit' } })

function CleanForm({ state, gun, now }: { state: State; gun: GunLine; now: number }) {
  const { bench } = useWords()
  const { solvents } = bench
  const sheet = currentSheets(state).find((s) => s.sheet === gun.sheet)
  return (
    <>
      <Form
        name={`clean.${gun.id}`}
        fields={CLEAN}
        original={{ solvent: solvents[0] }}
        schema={COMMANDS.CleanGun}
        complete={(value) => ({ ...value, gun: gun.id })}
        type="CleanGun"
        data={(value) => value}
        now={now}
        word={bench.cleaned}
        fieldWords={{ solvent: bench.cleanTitle, solventMl: bench.solventMl }}
        offers={{
          solvent: { options: [...worded(solvents, String), { value: '', word: bench.notSaid }] },
        }}
      />
      <MixCautions sheet={sheet} isActivated />
    </>
  )
}

type StaysProps = Pick<CupFormProps, 'state' | 'cup' | 'now'> & { readonly gun: GunLine }

/** What is still in a gun binds a fresh cup of the same: until when, and one touch once it is rinsed out. */
export function GunStays({ state, gun, cup, now }: StaysProps) {
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  const { sending, ask } = useCommands()
  const cupEnds = cupEndsAt(state, cup)
  if (gun.state !== 'loaded' || gun.endsAt === null) return null
  if (cupEnds === null || gun.endsAt >= cupEnds) return null
  const { act } = words.value
  const time = (ms: number) => format.value.timeAndDay(ms, now)
  return (
    <div class="refusal">
      <p class="sentence">{say.gunStays(time(gun.endsAt), time(cupEnds))}</p>
      <Press
        act="RinseGun"
        isOff={sending.value.busy}
        onPress={() => ask('RinseGun', { gun: gun.id })}
      >
        {act.rinseGun}
      </Press>
      <Answer sending={sending.value} now={now} />
    </div>
  )
}

const LOAD = fieldsOf(COMMANDS.LoadGun, {
  without: ['cup', 'override'],
  steps: { needleMm: 0.1, inletKpa: 'unit', turns: 0.25 },
})

/** Material from a cup into a gun: needle, pressure and turns as they are set, the sheet's beside them. */
export function LoadForm({
  state,
  id,
  cup,
  now,
  scanned,
}: CupFormProps & { readonly scanned: string | undefined }) {
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  const { bench } = words.value
  const { units, pressure } = format.value
  const sheet = sheetOfCup(state, cup)
  const guns = gunLines(state)
  const draft = useFormDraft(
    `load.${id}`,
    () => blank({ kind: 'group', fields: LOAD }),
    localStorage,
  )
  const set = groupIn(draft.value)
  // A gun's tag was scanned before: its touch is saved.
  useLayoutEffect(() => {
    if (scanned !== undefined && guns.some((g) => g.id === scanned))
      draft.value = { ...groupIn(draft.value), gun: scanned }
  }, [scanned])
  const picked = guns.find((g) => g.id === set.gun)
  const proposed = {
    needleMm: picked?.needleMm ?? sheet?.gun?.needleMm,
    inletKpa: picked?.inletKpa ?? sheet?.gun?.inletKpa,
    turns: sheet?.gun?.turns,
  }
  const end = cupEndsAt(state, cup) ?? keepEndsAt(state, cup)
  const isOver = end !== null && end <= now
  const inletKpa = set.inletKpa === '' ? proposed.inletKpa : set.inletKpa
  const isDoubtful =
    typeof inletKpa === 'number' &&
    doubtOf(typedMeasure(inletKpa, 'pressure', units), 'pressure', units) !== null
  const says = sheet?.gun && [
    `${fieldText(sheet.gun.needleMm)} mm`,
    pressure(sheet.gun.inletKpa),
    `${sheet.gun.distanceCm} cm`,
  ]
  return (
    <div class="form">
      <FormHead title={bench.loadTitle(`${id.slice(0, 4)}, ${cup.name}`)} />
      {isOver && (
        <div class="acts">
          <Sentence>{bench.ended(format.value.timeAndDay(end, now))}</Sentence>
          <MixFirst state={state} of={cup} />
        </div>
      )}
      {says && <p class="minor">{bench.sheetSays(says.join(', '))}</p>}
      <FormOf
        name={`load.${id}`}
        draft={draft}
        fields={LOAD}
        schema={COMMANDS.LoadGun}
        complete={(value) => ({ ...proposed, ...value, cup: id })}
        type="LoadGun"
        data={(value) => value}
        now={now}
        word={bench.loaded}
        isOff={set.gun === '' || isDoubtful}
        isSecond={isOver}
        wayOut={(code, onTaken) => (
          <CupWay {...{ code, state, id, cup, now, onTaken }} gun={String(set.gun)} />
        )}
        proposed={proposed}
        offers={{
          gun: {
            options: guns.map((g) => ({
              value: g.id,
              word: g.name,
              small: g.holds === null ? bench.clean : bench.holds(g.holds),
            })),
            other: { word: bench.otherGun, asks: bench.gunName },
          },
          zone: {
            options: knownZones(state).map((value) => ({
              value,
              word: zoneWord(state, words.value.zones, value),
            })),
          },
        }}
        fieldWords={{ zone: say.sprayedIn }}
        settle={(to) =>
          // Another gun has another needle and pressure.
          groupIn(to).gun === set.gun ? to : { ...groupIn(to), needleMm: '', inletKpa: '' }
        }
        onSaved={() => {
          location.hash = hashOf('cups')
        }}
      >
        {picked && <GunStays state={state} gun={picked} cup={cup} now={now} />}
        <p class="minor">{bench.gunPressure}</p>
      </FormOf>
      <MixCautions sheet={sheet} isActivated={cup.clocks.length > 0} />
    </div>
  )
}
