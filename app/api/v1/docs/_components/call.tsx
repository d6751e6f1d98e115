import type { CallOnPage } from '@/lib/features/api-reference/loaders'
import { Properties } from './properties'

export function Call({ call }: { call: CallOnPage }) {
  const { id, method, path, summary, permission, parameters, body, answer } = call
  return (
    <article id={id} aria-labelledby={`${id}-title`} className="border-line border-b py-5">
      <h3 id={`${id}-title`} className="break-words">
        {method} <code className="font-plain">{path}</code>
      </h3>
      <p>{summary}</p>
      <p className="text-fine-print text-soft">Needs {permission}.</p>
      <Properties title="Parameters" properties={parameters} />
      <Properties title="Body" properties={body} />
      <details className="mt-1">
        <summary className="target inline-flex items-center text-small">Answer</summary>
        <Properties title="Answer" properties={answer} isTitleHidden />
      </details>
    </article>
  )
}
