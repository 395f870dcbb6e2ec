import type { BellKind } from '../../machines/bell/kinds.ts'

/** What every bell means. A kind without something to do about it does not compile (AL-02). */
export type Meaning = {
  readonly name: string
  /** Why it rings. */
  readonly cause: string
  /** What happens to the paint when nobody answers. */
  readonly consequence: string
  /** What is to be done. */
  readonly action: string
  /** How long there is. */
  readonly time: string
}
type Meanings = {
  readonly title: string
  readonly cause: string
  readonly consequence: string
  readonly action: string
  readonly time: string
  readonly of: Readonly<Record<BellKind, Meaning>>
}

export const en: Meanings = {
  title: 'What each bell means',
  cause: 'Why',
  consequence: 'If not',
  action: 'Do',
  time: 'Time',
  of: {
    coatReady: {
      name: 'Next coat may go on',
      cause: 'The last coat has flashed for as long as its sheet asks in this air.',
      consequence: 'Nothing yet: the recoat window runs.',
      action: 'Look the coat over, then start the next one.',
      time: 'Until the window shuts; the lane shows it.',
    },
    look: {
      name: 'Look',
      cause: 'By the forecast the base has gone matt. Only the eye decides.',
      consequence: 'A coat on a base that is still wet may mottle or trap solvent.',
      action: 'Look at the whole panel: MATT, or NOT YET for two minutes more.',
      time: 'Until the window shuts.',
    },
    mayGoToHeat: {
      name: 'May go to heat',
      cause: 'The standing flash before the bake is over.',
      consequence: 'Nothing yet: the film goes on drying in the air.',
      action: "Mind the vehicle's heat limit, then start the bake.",
      time: 'As the sheet says.',
    },
    inductionOver: {
      name: 'Mix may be sprayed',
      cause: 'The mix has stood as long as its sheet asks.',
      consequence: 'Its pot life runs.',
      action: 'Stir, strain, load the gun.',
      time: 'Until the pot life ends.',
    },
    cureOver: {
      name: 'Cure is over',
      cause: 'The part was hot enough for long enough, or the air cure has run.',
      consequence: 'Over-baked parts; a booth that stands idle.',
      action: 'End the cure, let it cool, look it over.',
      time: 'As the sheet says.',
    },
    potNear: {
      name: 'Pot life ends soon',
      cause: 'A fifth of the pot life is left, or ten minutes.',
      consequence: 'The mix thickens in cup and gun.',
      action: 'Spray what fits, mix a fresh cup for the rest.',
      time: 'What the cup shows.',
    },
    potOver: {
      name: 'Pot life over',
      cause: 'The pot life has ended and nobody emptied the cup.',
      consequence: 'A film that does not cure as it should, a gun that sets.',
      action: 'Empty the cup, clean the gun. Never seal what is left.',
      time: 'None.',
    },
    windowClosing: {
      name: 'Window closes soon',
      cause: 'A tenth of the recoat window is left, or fifteen minutes.',
      consequence: 'After it the next coat does not hold without abrading.',
      action: 'Put the next coat on, or plan to abrade.',
      time: 'What the lane shows.',
    },
    windowShut: {
      name: 'Window is shut',
      cause: 'The recoat window has ended without the next coat.',
      consequence: 'The next coat may peel.',
      action: 'Abrade as the sheet says, then go on.',
      time: 'None.',
    },
    gunDue: {
      name: 'Clean the gun',
      cause: 'The material in a gun has reached the end of its pot life.',
      consequence: 'It sets in the gun.',
      action: 'Clean the gun, and say so.',
      time: 'None.',
    },
    keepUntil: {
      name: 'Keep date over',
      cause: 'A stored mix has reached its keep-until date.',
      consequence: 'It may have settled or gone off.',
      action: 'Check it by its sheet, or empty the cup.',
      time: 'Before it is used again.',
    },
  },
}

export const es: Meanings = {
  title: 'Qué quiere decir cada timbre',
  cause: 'Por qué',
  consequence: 'Si no',
  action: 'Haga',
  time: 'Tiempo',
  of: {
    coatReady: {
      name: 'Se puede dar la mano siguiente',
      cause: 'La última mano ha evaporado lo que su ficha pide con este aire.',
      consequence: 'Todavía nada: corre la ventana de repintado.',
      action: 'Mire la mano y dé la siguiente.',
      time: 'Hasta que se cierre la ventana; está en la fila.',
    },
    look: {
      name: 'Mire',
      cause: 'Según lo previsto la base está mate. Solo el ojo decide.',
      consequence: 'Una mano sobre base mojada puede manchar o atrapar disolvente.',
      action: 'Mire todo el panel: MATE, o AÚN NO y dos minutos más.',
      time: 'Hasta que se cierre la ventana.',
    },
    mayGoToHeat: {
      name: 'Puede ir al calor',
      cause: 'Ha pasado la evaporación antes del horno.',
      consequence: 'Todavía nada: la película sigue secando al aire.',
      action: 'Cuide el límite de calor del vehículo y empiece el horneado.',
      time: 'Lo que diga la ficha.',
    },
    inductionOver: {
      name: 'La mezcla se puede aplicar',
      cause: 'La mezcla ha reposado lo que pide su ficha.',
      consequence: 'Corre su vida útil.',
      action: 'Remueva, cuele y cargue la pistola.',
      time: 'Hasta que acabe la vida útil.',
    },
    cureOver: {
      name: 'Curado terminado',
      cause: 'La pieza ha estado caliente el tiempo pedido, o el secado al aire ha pasado.',
      consequence: 'Piezas pasadas de horno; una cabina parada.',
      action: 'Termine el curado, deje enfriar, mírelo.',
      time: 'Lo que diga la ficha.',
    },
    potNear: {
      name: 'La vida útil acaba pronto',
      cause: 'Queda un quinto de la vida útil, o diez minutos.',
      consequence: 'La mezcla espesa en el vaso y en la pistola.',
      action: 'Aplique lo que quepa y mezcle otro vaso para el resto.',
      time: 'Lo que muestra el vaso.',
    },
    potOver: {
      name: 'Vida útil pasada',
      cause: 'La vida útil ha acabado y nadie ha vaciado el vaso.',
      consequence: 'Una película que no cura como debe, una pistola que se endurece.',
      action: 'Vacíe el vaso, limpie la pistola. No cierre nunca lo que sobre.',
      time: 'Ninguno.',
    },
    windowClosing: {
      name: 'La ventana se cierra pronto',
      cause: 'Queda una décima parte de la ventana, o quince minutos.',
      consequence: 'Después la mano siguiente no agarra sin lijar.',
      action: 'Dé la mano siguiente, o cuente con lijar.',
      time: 'Lo que muestra la fila.',
    },
    windowShut: {
      name: 'Ventana cerrada',
      cause: 'La ventana de repintado ha acabado sin la mano siguiente.',
      consequence: 'La mano siguiente puede desprenderse.',
      action: 'Lije como dice la ficha y siga.',
      time: 'Ninguno.',
    },
    gunDue: {
      name: 'Limpie la pistola',
      cause: 'El producto de una pistola ha llegado al final de su vida útil.',
      consequence: 'Se endurece en la pistola.',
      action: 'Limpie la pistola y dígalo.',
      time: 'Ninguno.',
    },
    keepUntil: {
      name: 'Fecha de guarda pasada',
      cause: 'Una mezcla guardada ha llegado a su fecha.',
      consequence: 'Puede haberse posado o estropeado.',
      action: 'Compruébela con su ficha o vacíe el vaso.',
      time: 'Antes de volver a usarla.',
    },
  },
}
