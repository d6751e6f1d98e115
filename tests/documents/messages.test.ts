import { describe, expect, it } from 'vitest'
import { getCatalogue } from '@/lib/messages/catalogue'
import { LANGUAGES, type Language } from '@/lib/messages/language'
import { formatMessage, messageArguments } from '@/lib/messages/message'

type Texts = Record<string, Record<string, string>>

const english: Texts = getCatalogue('en')
const others = LANGUAGES.filter((language) => language !== 'en')
const keysOf = (texts: Texts) =>
  Object.entries(texts).flatMap(([group, messages]) => Object.keys(messages).map((key) => `${group}.${key}`))

describe('the messages of every language', () => {
  it.each(others)('say the same things in %s as in English', (language) => {
    expect(keysOf(getCatalogue(language)).sort()).toEqual(keysOf(english).sort())
  })

  it.each(others)('ask in %s for the same values as in English', (language) => {
    const texts: Texts = getCatalogue(language)
    for (const [group, messages] of Object.entries(english)) {
      for (const [key, message] of Object.entries(messages)) {
        // Where a language needs the long or the short name of a stage is its own affair.
        const names = (text: string) =>
          messageArguments(text).map((name) => name.replace(/^longStage$/, 'stage'))
        expect(names(texts[group]?.[key] ?? ''), `${group}.${key}`).toEqual(names(message))
      }
    }
  })

  it.each(others)('are translated into %s, not copied', (language) => {
    const texts: Texts = getCatalogue(language)
    const sentences = Object.entries(english.careSheet ?? {}).filter(([, text]) => text.split(' ').length > 3)
    const copied = sentences.filter(([key, text]) => texts.careSheet?.[key] === text).map(([key]) => key)
    expect(copied).toEqual([])
  })

  it.each(LANGUAGES)('can all be filled in %s', (language) => {
    const values = new Proxy({}, { get: () => 3 })
    for (const messages of Object.values<Record<string, string>>(getCatalogue(language))) {
      for (const message of Object.values(messages)) {
        expect(formatMessage(message, values, language)).not.toMatch(/[{}]/)
      }
    }
  })
})

describe('a message', () => {
  const say = (message: string, values = {}, language: Language = 'en') =>
    formatMessage(message, values, language)

  it('chooses the plural of its language', () => {
    const flies = '{n, plural, one {# fly} other {# flies}}'
    expect([1, 2].map((n) => say(flies, { n }))).toEqual(['1 fly', '2 flies'])
    expect(say('{n, plural, one {# fois} other {# fois}}', { n: 0 }, 'fr')).toBe('0 fois')
  })

  it('prefers an exact number to a plural', () => {
    const often = '{n, plural, =1 {every day} =2 {every second day} other {every # days}}'
    expect([1, 2, 5].map((n) => say(often, { n }))).toEqual(['every day', 'every second day', 'every 5 days'])
  })

  it('knows English ordinals', () => {
    const instar = '{n, selectordinal, one {#st} two {#nd} few {#rd} other {#th}}'
    expect([1, 2, 3, 4, 11, 21].map((n) => say(instar, { n }))).toEqual([
      '1st',
      '2nd',
      '3rd',
      '4th',
      '11th',
      '21st',
    ])
  })

  it('never reads a value as a message', () => {
    expect(say('To {seller}.', { seller: '{n, plural, other {#}} }{' })).toBe('To {n, plural, other {#}} }{.')
  })

  it('fails loudly when it is broken or lacks a value', () => {
    for (const broken of ['{a', '{a, plural, one {x}}', 'a } b', '{}', '{a, guess, other {x}}']) {
      expect(() => say(broken, { a: 5 }), broken).toThrow(broken)
    }
    expect(() => say('{missing}')).toThrow('no value for missing')
  })
})
