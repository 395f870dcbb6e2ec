import type { BellKind } from '../../machines/bell/kinds.ts'

/** What every bell means. A kind of bell without something to do about it does not compile. */
type Meaning = {
  readonly name: string
  /** Why it rings. */
  readonly cause: string
  /** What happens to the paint when nobody acts. */
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
      name: 'Ready for the next coat',
      cause: 'The last coat has flashed for as long as its sheet asks in this air.',
      consequence: 'Nothing yet: the recoat window is running.',
      action: 'Inspect the coat, then start the next one.',
      time: 'Until the window closes; the lane shows it.',
    },
    look: {
      name: 'Look',
      cause: 'The base should be matte by now. Only looking decides.',
      consequence: 'A coat on a base that is still wet may mottle or trap solvent.',
      action: 'Look at the whole panel: MATTE, or NOT YET for two more minutes.',
      time: 'Until the window closes.',
    },
    mayGoToHeat: {
      name: 'Ready to bake',
      cause: 'The flash before heat is over.',
      consequence: 'Nothing yet: the film keeps drying in the air.',
      action: "Check the vehicle's heat limit, then start the bake.",
      time: 'As the sheet says.',
    },
    coatOpen: {
      name: 'Was this coat finished?',
      cause: 'It has been sprayed for three times as long as such a pass takes.',
      consequence: 'Until its finish is said, no flash and no window of it runs.',
      action: 'FINISH, if it is on; or go on spraying.',
      time: 'None.',
    },
    inductionOver: {
      name: 'Mix is ready to spray',
      cause: 'The induction time that the sheet asks for is over.',
      consequence: 'Its pot life is running.',
      action: 'Stir, strain, load the gun.',
      time: 'Until the pot life ends.',
    },
    cureOver: {
      name: 'Cure is over',
      cause: 'The part was hot enough for long enough, or the air cure is over.',
      consequence: 'The part may over-bake, and the booth is not free.',
      action: 'End the cure, let the part cool, inspect it.',
      time: 'As the sheet says.',
    },
    potNear: {
      name: 'Pot life ends soon',
      cause: 'A fifth of the pot life is left, or ten minutes.',
      consequence: 'The mix thickens in cup and gun.',
      action: 'Spray what you can, mix a fresh cup for the rest.',
      time: 'The cup shows it.',
    },
    potOver: {
      name: 'Pot life over',
      cause: 'The pot life has ended and nobody emptied the cup.',
      consequence: 'The film will not cure properly, and the mix sets in the gun.',
      action: 'Empty the cup, clean the gun. Never seal what is left.',
      time: 'None.',
    },
    windowClosing: {
      name: 'Window closes soon',
      cause: 'A tenth of the recoat window is left, or fifteen minutes.',
      consequence: 'After that the next coat does not hold on what is there.',
      action: 'Spray the next coat, or plan what the sheet asks for then: abrade or reapply.',
      time: 'The lane shows it.',
    },
    windowShut: {
      name: 'Window closed',
      cause: 'The recoat window has ended without the next coat.',
      consequence: 'The next coat may peel.',
      action: 'Abrade or reapply, as the lane says from the sheet.',
      time: 'None.',
    },
    gunNear: {
      name: 'Gun near its time',
      cause: 'The material in a gun reaches the end of its pot life soon.',
      consequence: 'After that it must not be sprayed, and sets in the gun.',
      action: 'Spray it out, or rinse or clean the gun.',
      time: 'The gun shows it.',
    },
    gunDue: {
      name: 'Clean the gun',
      cause: 'The material in a gun has reached the end of its pot life.',
      consequence: 'It sets in the gun.',
      action: 'Clean the gun, then press CLEANED.',
      time: 'None.',
    },
    keepUntil: {
      name: 'Past its keep date',
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
      name: 'Listo para la siguiente mano',
      cause: 'La última mano ya evaporó lo que pide su ficha con este aire.',
      consequence: 'Todavía nada: corre la ventana de repintado.',
      action: 'Revise la mano y dé la siguiente.',
      time: 'Hasta que se cierre la ventana; está en su línea.',
    },
    look: {
      name: 'Mire',
      cause: 'La base ya debería estar mate. Solo la vista decide.',
      consequence: 'Una mano sobre base mojada puede mancharse o atrapar solvente.',
      action: 'Mire todo el panel: MATE, o AÚN NO y dos minutos más.',
      time: 'Hasta que se cierre la ventana.',
    },
    mayGoToHeat: {
      name: 'Listo para hornear',
      cause: 'Terminó la evaporación antes de hornear.',
      consequence: 'Todavía nada: la película sigue secando al aire.',
      action: 'Revise el límite de calor del vehículo y empiece el horneado.',
      time: 'Lo que diga la ficha.',
    },
    coatOpen: {
      name: '¿Se terminó esta mano?',
      cause: 'Se está aplicando hace tres veces lo que tarda una pasada así.',
      consequence: 'Mientras no se diga su fin, no corre ninguna evaporación ni ventana.',
      action: 'TERMINAR, si ya está; o siga aplicando.',
      time: 'Ninguno.',
    },
    inductionOver: {
      name: 'Mezcla lista para aplicar',
      cause: 'Terminó la inducción que pide su ficha.',
      consequence: 'Corre su vida útil.',
      action: 'Agite, cuele y cargue la pistola.',
      time: 'Hasta que venza la vida útil.',
    },
    cureOver: {
      name: 'Curado terminado',
      cause: 'La pieza estuvo caliente el tiempo pedido, o terminó el curado al aire.',
      consequence: 'La pieza puede hornearse de más y la cabina no se libera.',
      action: 'Termine el curado, deje enfriar y revise la pieza.',
      time: 'Lo que diga la ficha.',
    },
    potNear: {
      name: 'La vida útil vence pronto',
      cause: 'Queda un quinto de la vida útil, o diez minutos.',
      consequence: 'La mezcla espesa en el vaso y en la pistola.',
      action: 'Aplique lo que alcance y mezcle otro vaso para el resto.',
      time: 'El que muestra el vaso.',
    },
    potOver: {
      name: 'Vida útil vencida',
      cause: 'La vida útil venció y nadie vació el vaso.',
      consequence: 'La película no cura bien y la mezcla se endurece en la pistola.',
      action: 'Vacíe el vaso, limpie la pistola. Nunca tape el sobrante.',
      time: 'Ninguno.',
    },
    windowClosing: {
      name: 'La ventana se cierra pronto',
      cause: 'Queda una décima parte de la ventana, o quince minutos.',
      consequence: 'Después la siguiente mano no agarra sobre lo que hay.',
      action: 'Dé la siguiente mano, o prevea lo que pide la ficha después: lijar o repetir.',
      time: 'El que muestra su línea.',
    },
    windowShut: {
      name: 'Ventana cerrada',
      cause: 'La ventana de repintado terminó sin la siguiente mano.',
      consequence: 'La siguiente mano puede desprenderse.',
      action: 'Lije o repita, como dice la línea según la ficha.',
      time: 'Ninguno.',
    },
    gunNear: {
      name: 'Pistola por vencer',
      cause: 'La vida útil del producto de una pistola acaba pronto.',
      consequence: 'Después no se debe aplicar, y se endurece en la pistola.',
      action: 'Acábelo, o enjuague o limpie la pistola.',
      time: 'El que muestra la pistola.',
    },
    gunDue: {
      name: 'Limpie la pistola',
      cause: 'Venció la vida útil del producto de una pistola.',
      consequence: 'Se endurece en la pistola.',
      action: 'Limpie la pistola y presione YA LIMPIÉ.',
      time: 'Ninguno.',
    },
    keepUntil: {
      name: 'Fecha vencida',
      cause: 'Una mezcla guardada llegó a su fecha límite.',
      consequence: 'Puede haberse asentado o echado a perder.',
      action: 'Revísela con su ficha o vacíe el vaso.',
      time: 'Antes de volver a usarla.',
    },
  },
}
