import type { About } from '../../machines/trade/calculator.ts'
import type { CalculatorName } from '../../machines/trade/registry.ts'

/** La calculadora en español: los nombres, y lo que acompaña a cada resultado. */

export const names = {
  names: {
    interval: 'Tiempo a una temperatura',
    clock: 'Tiempo con aire que cambia',
    pour: 'Cuánto verter',
    overPour: 'Se vertió de más',
    quantity: 'Cuánto mezclar',
    film: 'Película húmeda y seca',
    dewPoint: 'Punto de rocío',
    voc: 'COV de una mezcla',
    vocStages: 'COV de un acabado por etapas',
    colour: 'Diferencia de color',
    air: '¿Da abasto el compresor?',
    viscosity: 'Viscosidad con copa de flujo',
    activator: 'Qué catalizador',
    cupPlan: '¿Alcanzará el vaso?',
  } as Record<CalculatorName, string>,
  options: {
    notBefore: 'una espera (evaporación, curado)',
    notAfter: 'un límite (vida útil, ventana)',
    us: 'Estados Unidos',
    eu: 'la Unión Europea',
  } as Record<string, string>,
  fields: {
    kind: 'Qué es',
    points: 'Cifras de la ficha',
    readings: 'Lecturas del aire',
    atMin: 'A los',
    waterborne: 'Evaporación al agua',
    ratio: 'Proporción',
    totalMl: 'Total',
    totalG: 'Peso total',
    densities: 'Densidad de cada parte',
    stepG: 'Paso de la báscula',
    pouredG: 'Vertido de cada parte',
    cupMl: 'En el vaso caben',
    areaM2: 'Área',
    transfer: 'Transferencia',
    lossMl: 'Perdido en pistola y vaso',
    wetUm: 'Película húmeda',
    dryUm: 'Película seca',
    thinnerPct: 'Reductor',
    exemptDensity: 'Densidad de los exentos',
    basis: 'Se cuenta como en',
    base: 'Base',
    mid: 'Intermedias',
    clear: 'Transparente',
    panel: 'Panel',
    card: 'Muestra',
    'panel.0': 'Panel L*',
    'panel.1': 'Panel a*',
    'panel.2': 'Panel b*',
    'card.0': 'Muestra L*',
    'card.1': 'Muestra a*',
    'card.2': 'Muestra b*',
    gunLpm: 'Aire que usa la pistola',
    needKpa: 'Mínima, manométrica',
    hoseDropKpa: 'Presión que pierde la manguera',
    options: 'Opciones de la ficha',
    nowC: 'Aire ahora',
    warmestC: 'Hora más cálida',
    sprayMinPerPanel: 'Tiempo para un panel',
    panels: 'Paneles',
    flash: 'Evaporación entre manos',
    endsAtMin: 'Termina a los',
    ml: 'Volumen',
    g: 'Peso',
    scaleG: 'La báscula marca',
    errorPct: 'Error de proporción',
    targetG: 'Nuevo objetivo',
    addG: 'Falta por agregar',
    fits: 'Cabe en el vaso',
    volumeMl: 'Mezclar',
    spreadM2PerL: 'Rendimiento',
    dewPointC: 'Punto de rocío',
    marginC: 'Superficie sobre el punto de rocío',
    regulatoryGPerL: 'Sin agua ni exentos',
    actualGPerL: 'Real',
    gPerL: 'COV',
    deltaE00: 'ΔE00',
    balanceLpm: 'Sobra o falta',
    sustained: 'Da abasto',
    drawdownMin: 'Sin presión suficiente a los',
    recoverMin: 'Lleno otra vez a los',
    mm2PerS: 'Viscosidad',
    inRange: 'Dentro del rango de la copa',
    why: 'Por qué',
    lastCoatAtMin: 'Última mano empieza a los',
    livesUntilMin: 'El vaso dura',
    enough: 'Basta un vaso',
    cups: 'Vasos',
    mixAtMin: 'Mezclar a los',
    share: 'Parte del total',
  } as Record<string, string>,
}

const ficha =
  'Manda la ficha del fabricante. Entre sus cifras esto es una estimación; fuera de ellas solo se vuelve más prudente.'

export const about: Readonly<Record<CalculatorName, About>> = {
  interval: {
    formula:
      'Entre dos puntos ln(minutos) es lineal en 1/T (kelvin); un punto se duplica por cada 10 °C más frío. Fuera de los puntos una espera nunca se acorta y un límite nunca se alarga.',
    units: 'temperatura y minutos',
    source: 'Ley de Arrhenius; el factor 2 por 10 °C (18 °F) lo da UFGS-09971 para la vida útil',
    caution: ficha,
  },
  clock: {
    formula:
      'El intervalo acaba cuando la integral de dt / minutos(T(t)) llega a 1; cada lectura vale hasta la siguiente, la primera también hacia atrás. Al agua: minutos = los de la ficha × ps(Tref)(1 − HRref) / (ps(T)(1 − HR)), nunca menos que la ficha; desde 95 % de HR no evapora. Segundos enteros, hacia lo prudente.',
    units: 'minutos desde el inicio, temperatura, humedad relativa',
    source:
      'Ley de Arrhenius y fracciones aditivas; presión de saturación por WMO-No. 8 (Magnus). La regla de secado es de este proyecto.',
    caution: ficha,
  },
  pour: {
    formula:
      'En volumen: mL = total × parte / Σ partes, g = mL × densidad. En peso: g = total × parte / Σ (parte / densidad), mL = g / densidad. La báscula marca la suma de g, a su paso; error = mayor |real/objetivo − 1| × 100, referido a la primera parte.',
    units: 'volumen, g, g/mL; los porcentajes son de la suma anterior salvo que se diga de la base',
    source:
      'Definición de proporción de mezcla; la lectura acumulada es práctica común, sin fuente',
    caution:
      'Se supone que los volúmenes se suman. Use la proporción y las densidades de la ficha, y mezcle con la protección que pide.',
  },
  overPour: {
    formula:
      'Nuevo total = el menor que no baja del pedido y no deja ningún objetivo por debajo de lo vertido; agregar = objetivo − vertido',
    units: 'g, volumen, g/mL; el paso de la báscula no cuenta aquí',
    source: 'Definición de proporción de mezcla; práctica común, sin fuente',
    caution:
      'De una mezcla no se saca nada. La vida útil corre desde el primer catalizador que entró; agregar nunca la reinicia.',
  },
  quantity: {
    formula: 'mL = m² × manos × µm secas / (sólidos × transferencia) + pérdida',
    units:
      'm², µm, volumen; sólidos en volumen, listo para pintar, y transferencia (1 µm sobre 1 m² es 1 mL)',
    source:
      'Balance de volumen; transferencia como la define South Coast AQMD. Allí HVLP se toma como 0.65; 40 CFR 60 Subparte EE da 0.25 para pulverización por aire; en piezas pequeñas se mide de 0.2 a 0.5',
    caution:
      'Una estimación, ±30 %: área y transferencia rara vez se conocen mejor. La película dentro de los límites de la ficha va antes que ahorrar material.',
  },
  film: {
    formula: 'seca = húmeda × sólidos / (1 + reductor/100); rendimiento = 1000 / húmeda',
    units:
      'µm; sólidos en volumen; reductor en % del volumen sin reducir; m² por litro ya reducido',
    source:
      'UFC 3-190-06 §2.1.5 (seca = húmeda × sólidos); la forma diluida según notas de ingeniería tras SSPC-PA 2',
    caution: 'Sin pérdidas: al panel llega la parte que diga la transferencia.',
  },
  dewPoint: {
    formula:
      'γ = ln(HR) + 17.62 t / (243.12 + t); punto de rocío = 243.12 γ / (17.62 − γ); margen = superficie − punto de rocío',
    units: 'temperatura; humedad relativa',
    source: 'WMO-No. 8 (2008), fórmula de Magnus sobre agua, invertida',
    caution:
      'La superficie debe estar al menos 3 °C por encima del punto de rocío; la ficha puede pedir más. Bajo 0 °C es el punto de rocío sobre agua, no el de escarcha.',
  },
  voc: {
    formula: 'reglamentario = (Wv − Ww − Wex) / (V − Vw − Vex); real = (Wv − Ww − Wex) / V',
    units: 'g por litro; partes en volumen; fracciones en peso; el agua es 1.00 g/mL',
    source:
      '40 CFR 59.104(a)(1): variables según los textos de 2003 y 2007; la forma de la fracción, de memoria',
    caution:
      'Se supone que los volúmenes se suman. Lo que cuenta como exento cambia según la jurisdicción. Para un registro use las cifras del fabricante para esta proporción.',
  },
  vocStages: {
    formula: '(base + Σ intermedias + 2 × transparente) / (número de intermedias + 3)',
    units: 'g por litro, sin agua ni solvente exento',
    source:
      '40 CFR 59.104(a)(2): variables leídas, forma de memoria; la forma sin intermedias como en SLO County APCD Rule 423',
    caution: 'Solo donde la norma local promedia etapas; muchas juzgan cada producto por sí solo.',
  },
  colour: {
    formula: 'CIEDE2000 con kL = kC = kH = 1',
    units: 'CIE L*a*b*; ΔE00 no tiene unidad',
    source: 'ISO/CIE 11664-6 (título de memoria); Sharma, Wu y Dalal 2005, calculado por culori',
    caution:
      'Ambos con el mismo instrumento, geometría, luz y observador. Un solo ángulo dice poco de los colores de efecto: mire una muestra pintada junto al vehículo.',
  },
  air: {
    formula:
      'aire libre guardado = tanque × (corte − mínima − manguera) / 101.325; compresor = aire libre × parte del tiempo; vaciado = guardado / (pistola − compresor); recuperación = guardado / compresor',
    units: 'L, L/min de aire libre, presión manométrica, minutos',
    source:
      'Hojas de dimensionado y documentación DOE/ORNL MEASUR: t = V (P1 − P2) / (Patm (S − C))',
    caution:
      'Tome el aire libre que el compresor entrega, no su cilindrada, que es mayor. Nunca por encima de la presión nominal de tanque, manguera y pistola.',
  },
  viscosity: {
    formula: 'Ford: K (t − c). ISO y DIN: A t − B / t',
    units: 'segundos; mm²/s (cSt); Ford a 25 °C, ISO a 23 °C',
    source:
      'ASTM D1200, ISO 2431 y DIN 53211 (retirada), según transcripciones públicas; ISO 5 de una sola fuente',
    caution:
      'Fuera de margen elija otra copa. El producto caliente fluye más: mida a la temperatura de la copa.',
  },
  activator: {
    formula:
      'La opción cuyo margen contiene lo más cálido de ahora y después; de varias, la que también vale ahora, y luego la de límite más alto',
    units: 'temperatura, como la ficha da cada margen',
    source: 'práctica común, sin fuente: el catalizador más lento en un día cálido',
    caution:
      'Solo entre lo que la ficha nombra, con sus propios márgenes: fuera de ellos no se propone nada. También cuentan el tamaño del trabajo y el movimiento del aire.',
  },
  cupPlan: {
    formula:
      'Simulado: cada mano empieza cuando el pintor vuelve o cuando ese panel ha evaporado, lo más tarde; un vaso toma toda mano que acaba dentro de su vida útil, mezclado al empezar su primera',
    units: 'minutos desde el inicio de la primera mano; temperatura; parte de todo el material',
    source: 'evaporación y vida útil por las reglas de tiempo; el plan es propio de este proyecto',
    caution:
      'Se supone que el aire no cambia. Mezcla y reposo van antes de esa mano. Es una previsión: mandan los relojes en marcha.',
  },
}
