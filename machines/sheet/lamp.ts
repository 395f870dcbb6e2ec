import type { Cure } from './cureSchema.ts'

type WithCures = {
  readonly cure: Cure
  readonly activators: readonly { readonly cure?: Cure | undefined }[]
  readonly reducers: readonly { readonly cure?: Cure | undefined }[]
  readonly additives?: readonly { readonly cure?: Cure | undefined }[] | undefined
}

function named<C extends Cure>(cure: C): C {
  const { infrared } = cure
  if (infrared?.fullMin === undefined) return cure
  const { fullMin: minutes, ...others } = infrared
  return { ...cure, infrared: { minutes, ...others } }
}

const inOption = <T extends { readonly cure?: Cure | undefined }>(option: T): T =>
  option.cure ? { ...option, cure: named(option.cure) } : option

/** A sheet whose lamp's minutes at full power have one name, `minutes`, however they were typed. */
export function withLampMinutes<S extends WithCures>(sheet: S): S {
  const { cure, activators, reducers, additives } = sheet
  return {
    ...sheet,
    cure: named(cure),
    activators: activators.map(inOption),
    reducers: reducers.map(inOption),
    ...(additives ? { additives: additives.map(inOption) } : {}),
  }
}
