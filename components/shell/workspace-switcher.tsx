import { MenuButton } from '../ui/menu'

type Props = { current: string; others: readonly { slug: string; name: string }[] }

/** The name of the workspace; a menu only for those who belong to several. */
export function WorkspaceSwitcher({ current, others }: Props) {
  if (others.length === 0) return <span>{current}</span>
  return (
    <MenuButton
      kind="quiet"
      className="-mx-4 max-w-[calc(100%+2rem)]"
      label={<span className="truncate">{current}</span>}
      entries={others.map(({ slug, name }) => ({ id: slug, label: name, href: `/w/${slug}` }))}
    />
  )
}
