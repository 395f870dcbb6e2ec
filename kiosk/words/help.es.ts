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
        'Cada línea es un panel. La palabra o el tiempo en grande dice qué espera.',
        'Toque una línea para anotar lo que hace: EMPEZAR, TERMINAR, MATE, LIJADO, HORNEAR.',
        'Una cuenta regresiva es una espera. Al terminar suena un timbre: mire el panel y presione EMPEZAR.',
        'Abajo están los vasos con la vida útil que les queda. El vaso vencido se vacía, nunca se cierra.',
        '¿Tocó la tecla equivocada? DESHACER queda abajo diez segundos.',
      ],
    },
    bench: {
      title: 'La mezcla',
      lines: [
        'Elija el producto y el trabajo, luego cuánto, luego vierta con la báscula.',
        'La tecla MARCA toma el peso que pide la pantalla. Escriba otro si la báscula marca otro.',
        '¿Vertió de más? Lo demás se calcula de nuevo para que la proporción quede bien.',
        'La vida útil corre desde que entró el catalizador.',
        'Ponga la etiqueta en el vaso y confírmelo, o escríbala a mano.',
      ],
    },
    jobs: {
      title: 'Trabajos',
      lines: [
        'Abra un trabajo por vehículo. Elija sus paneles en el dibujo o por nombre.',
        'Cada panel tiene una ruta: los pasos de la preparación al pulido. Cámbiela antes de empezar.',
        'Toque un panel para devolverlo, omitir un paso con su motivo o moverlo.',
        'El historial muestra qué se hizo, cuándo, quién, con qué vaso y con qué aire.',
        'Cerrar el día dice qué no debe quedar toda la noche.',
      ],
    },
    scan: {
      title: 'Escanear',
      lines: [
        'Escanee o escriba la etiqueta de un vaso o de un panel, desde cualquier pantalla.',
        'El vaso muestra lo que le queda de vida útil, su proporción y la mano que puede empezar.',
        'Si dice que se leyó mal, escanee otra vez: no se hizo nada.',
      ],
    },
    setup: {
      title: 'Ajustes',
      lines: [
        'Primero las fichas: de ellas sale cada tiempo. Cópielas del papel del fabricante.',
        'Las zonas son los lugares donde se pinta. Dé a cada una el tiempo de despeje de su cabina.',
        'Esta terminal: escuche cada timbre donde trabaja y mida la barra con una regla.',
        'El respaldo guarda una copia de todo en otro disco.',
      ],
    },
    air: {
      title: 'Aire',
      lines: [
        'Lea el termómetro y el higrómetro donde está el panel, y la superficie si puede.',
        'Sin lectura, los relojes toman el extremo prudente de la ficha.',
        'Una superficie cerca del punto de rocío se moja: espere o caliéntela.',
      ],
    },
    cups: {
      title: 'Vasos y pistolas',
      lines: [
        'Cada vaso muestra lo que le queda de vida útil y cuánto tiene, más o menos.',
        'Toque un vaso para imprimir su etiqueta, verterlo con otro, cargar una pistola, corregir lo que queda o vaciarlo.',
        'Una pistola con producto tiene su propio plazo: enjuáguela o límpiela antes.',
      ],
    },
    calculator: {
      title: 'Calculadora',
      lines: [
        'Elija qué quiere saber, escriba lo que tiene y toque CALCULAR.',
        'El resultado trae su fórmula, su fuente y una advertencia.',
        'Aquí no se registra nada y ningún reloj cambia.',
      ],
    },
    trace: {
      title: 'Rastreo',
      lines: [
        'Elija qué tiene y en qué panel. Primero van las causas a favor de las que habla el registro.',
        'La línea de tiempo muestra manos, vasos, pistolas, aire y timbres. Blanco: aún no. Rayado: permitido. Lleno: pintado.',
        'Mire y compruebe antes de decapar: un registro señala, nunca prueba.',
      ],
    },
    codes: {
      title: 'Códigos, etiquetas, pedal',
      lines: [
        'Imprima los códigos y cuélguelos junto a la cabina. Imprima etiquetas de paneles, pistolas, personas y estantes.',
        'La etiqueta de un panel y la de un vaso, escaneadas en cualquier orden, empiezan una mano. TERMINAR MANO la termina.',
        'ELEGIR TECLA hace que un pedal dé el siguiente paso de un panel.',
      ],
    },
    unsent: {
      title: 'Aún sin enviar',
      lines: [
        'Lo que presione sin servidor espera aquí y se envía solo, en orden.',
        'En esta pantalla ya cuenta: relojes y timbres van con ello.',
        'Lo que el servidor rechazó queda aquí hasta que lo intente otra vez o lo deseche.',
      ],
    },
    booth: {
      title: 'La vista de cabina',
      lines: [
        'Los tiempos que importan ahora, en números que se leen por la ventana de la cabina.',
        'No entre a la cabina con teléfono ni escáner mientras se pinta: termine la mano en la terminal de afuera.',
        'Un vaso vencido llena la pantalla hasta que alguien diga qué se hizo con él.',
      ],
    },
  },
  steps: [
    {
      title: 'Una línea es un panel',
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
