import type { HelpWords } from './helpWords.ts'

/** Ayuda con palabras sencillas para cada pantalla, y un recorrido corto del tablero. */

export const es: HelpWords = {
  help: 'Ayuda',
  back: 'Volver',
  tour: 'RECORRIDO DEL TABLERO',
  skip: 'OMITIR EL RECORRIDO',
  next: 'SIGUIENTE',
  done: 'AL TABLERO',
  stepOf: (n, of) => `${n} de ${of}`,
  maker: 'La ficha del fabricante, la hoja de seguridad y la ley van primero, siempre.',
  pages: {
    wall: {
      title: 'El tablero',
      lines: [
        'Cada línea es una pieza. La palabra o el tiempo en grande dice qué espera.',
        'Toque una línea para anotar lo que hace: INICIAR, TERMINAR, MATE, LIJADO, HORNEAR.',
        'Una cuenta atrás es una espera. Al terminar suena un timbre: mire la pieza e inicie la mano.',
        'Abajo están los vasos con la vida útil que les queda. El vaso vencido se vacía, nunca se cierra.',
        '¿Tocó la tecla equivocada? DESHACER queda abajo diez segundos.',
      ],
    },
    bench: {
      title: 'La mezcla',
      lines: [
        'Elija el producto y el trabajo, luego cuánto, luego vierta con la báscula.',
        'La tecla COMO SE MUESTRA toma el peso que pide la pantalla. Escriba otro si la báscula muestra otro.',
        '¿Vertió de más? Lo demás se calcula de nuevo para que la proporción quede bien.',
        'La vida útil corre desde que entró el catalizador.',
        'Ponga la etiqueta en el vaso y confírmelo, o escríbala a mano.',
      ],
    },
    jobs: {
      title: 'Trabajos',
      lines: [
        'Abra un trabajo por vehículo. Elija sus piezas en el dibujo o por nombre.',
        'Cada pieza tiene una ruta: los pasos de la preparación al pulido. Cámbiela antes de empezar.',
        'Toque una pieza para regresarla, omitir un paso con su razón o moverla.',
        'El historial muestra qué se hizo, cuándo, quién, con qué vaso y con qué aire.',
        'Cerrar el día dice qué no debe quedar toda la noche.',
      ],
    },
    scan: {
      title: 'Escanear',
      lines: [
        'Escanee o escriba la etiqueta de un vaso o de una pieza, desde cualquier pantalla.',
        'El vaso muestra lo que le queda de vida útil, su proporción y la mano que puede iniciar.',
        'Si dice que se leyó mal, escanee otra vez: no se hizo nada.',
      ],
    },
    setup: {
      title: 'Ajustes',
      lines: [
        'Primero las fichas: de ellas sale cada tiempo. Cópielas del papel del fabricante.',
        'Las zonas son los lugares donde se pinta. Dé a cada una el tiempo de ventilación de su cabina.',
        'Esta terminal: escuche cada timbre donde trabaja y mida la barra con una regla.',
        'El respaldo guarda una copia de todo en otro disco.',
      ],
    },
    air: {
      title: 'Aire',
      lines: [
        'Lea el termómetro y el higrómetro donde está la pieza, y la superficie si puede.',
        'Sin lectura, los relojes toman el extremo prudente de la ficha.',
        'Una superficie cerca del punto de rocío se moja: espere o caliéntela.',
      ],
    },
  },
  steps: [
    {
      title: 'Una línea es una pieza',
      lines: ['A la izquierda su nombre y su trabajo. Al lado, en grande, lo que espera.'],
    },
    {
      title: 'La franja es el tiempo',
      lines: ['La línea vertical es ahora. A su izquierda lo hecho, a su derecha lo que viene.'],
    },
    {
      title: 'Toque una línea para actuar',
      lines: ['La tecla más grande es lo que sigue. Si es pronto, dice por qué y cuánto falta.'],
    },
    {
      title: 'Timbres',
      lines: ['Triángulo: lista para una mano. Octágono: vida útil terminada. OK dice que lo oyó.'],
    },
    {
      title: 'Abajo: vasos y lo que sigue',
      lines: ['El anillo es la vida útil que queda. Desde ahí se mezcla un vaso.'],
    },
  ],
}
