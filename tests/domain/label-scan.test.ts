import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formatCode, individualCode } from '@/lib/domain/label/code'
import { readScanned, scannedAddress } from '@/lib/domain/label/scan'

const present = { slug: 'larch-lane' }
const lead = (text: string) => scannedAddress(readScanned(text), present)

describe('a scanned label', () => {
  test('leads to its animal, under the workspace that printed it', () => {
    expect(lead('https://bench.example/w/glass-fern/c/K7Q97')).toBe('/w/glass-fern/c/K7Q97')
    // As it is printed: with the space in the code.
    expect(lead('https://bench.example/w/glass-fern/c/K7Q 97')).toBe('/w/glass-fern/c/K7Q97')
    expect(lead('https://bench.example/w/glass-fern/c/K7Q%2097')).toBe('/w/glass-fern/c/K7Q97')
    expect(lead(' http://192.168.0.7:3000/w/larch-lane/c/C-31\n')).toBe('/w/larch-lane/c/C-31')
  })

  test('may be a bare code, which is one of the present workspace', () => {
    expect(lead('k7q 97')).toBe('/w/larch-lane/c/K7Q97')
    expect(lead('E-12')).toBe('/w/larch-lane/c/E-12')
  })

  test('of a sheet leads to its public page', () => {
    const token = 'Zm9vYmFyYmF6cXV4eHl6enkx0'
    expect(lead(`https://bench.example/p/${token}`)).toBe(`/p/${token}`)
  })

  test.each([
    'https://elsewhere.example/',
    'https://elsewhere.example/w/larch-lane/c/K7Q97/../../../sign-in',
    'javascript:alert(1)',
    'https://elsewhere.example/w/larch-lane/c/K7Q97?next=//elsewhere.example',
    'https://elsewhere.example/p/short',
    'WIFI:S:larch;T:WPA;P:secret;;',
    '',
  ])('that says %s leads nowhere', (text) => {
    expect(lead(text)).toBeNull()
  })

  test('never leads to another site, whatever it says', () => {
    const part = fc.oneof(
      fc.constantFrom(
        'https://',
        '//',
        '/w/',
        '/p/',
        '/c/',
        'larch-lane',
        'K7Q97',
        '..',
        '@',
        '#',
        '?',
        '\\',
      ),
      fc.string({ maxLength: 12 }),
    )
    fc.assert(
      fc.property(fc.array(part, { maxLength: 9 }), (parts) => {
        expect(lead(parts.join('')) ?? '/w/x').toMatch(/^\/(w|p)\/[\w-]/)
      }),
    )
  })

  test('of every animal is read back as its code', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 250_000 }), (number) => {
        const code = individualCode(number, '7')
        expect(lead(`https://x.example/w/larch-lane/c/${formatCode(code)}`)).toBe(`/w/larch-lane/c/${code}`)
      }),
    )
  })
})
