import type { Property } from '@/lib/platform/api/property'

type Props = { title: string; properties: readonly Property[]; isTitleHidden?: boolean }

const INDENT = ['ps-0', 'ps-5', 'ps-10', 'ps-15', 'ps-20']

export function Properties({ title, properties, isTitleHidden = false }: Props) {
  if (properties.length === 0) return null
  return (
    <div className="mt-2">
      {isTitleHidden ? null : <p className="font-semibold text-small">{title}</p>}
      <ul aria-label={title} className="text-small">
        {properties.map(({ name, path, type, isRequired, description, depth }) => (
          <li key={path} className={`${INDENT[depth] ?? 'ps-20'} py-0.5`}>
            <code className="font-plain font-semibold">{name}</code>{' '}
            <span className="text-soft">
              {type}
              {isRequired ? '' : ', optional'}
              {description ? ` · ${description}` : ''}
            </span>
          </li>
        ))}
      </ul>
    </div>
  )
}
