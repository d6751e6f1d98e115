import Link from 'next/link'

/** The name leads to the list of one's workspaces, where another one is chosen. */
export function WorkspaceName({ name }: { name: string }) {
  return (
    <Link
      href="/"
      prefetch={false}
      className="target inline-flex items-center text-soft"
      title="Your workspaces"
    >
      <span className="min-w-0 truncate">{name}</span>
    </Link>
  )
}
