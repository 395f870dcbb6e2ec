import type { en } from './calling.ts'

export const es: typeof en = {
  due: (time, length) => `a las ${time}, hace ${length}`,
  held: (left) => `Sonó una y otra vez: en silencio ${left}`,
  reach: { zone: 'toda la zona', lead: 'el jefe de taller', shop: 'todo el taller' },
  notShown: 'taller cerrado: solo en el registro',
}
