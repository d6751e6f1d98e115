import Link from 'next/link'
import { messagesIn } from '@/lib/messages/catalogue'
import { isLanguage, LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'

type Props = { token: string; present: string; path?: string }

/** The same page in the other languages a sheet can be printed in. */
export function LanguageChoice({ token, present, path = '' }: Props) {
  return (
    <nav
      aria-label={messagesIn(isLanguage(present) ? present : 'en', 'careSheet')('language')}
      className="flex flex-wrap gap-x-4 text-small"
    >
      {LANGUAGES.map((language) =>
        language === present ? (
          <strong key={language} lang={language} className="py-2.5">
            {LANGUAGE_NAMES[language]}
          </strong>
        ) : (
          <Link
            key={language}
            lang={language}
            hrefLang={language}
            href={`/p/${token}${path}?language=${language}`}
            prefetch={false}
            className="py-2.5"
          >
            {LANGUAGE_NAMES[language]}
          </Link>
        ),
      )}
    </nav>
  )
}
