import Link from 'next/link'

type Props = {
  workspace: string
  of: { name: 'species' | 'individual' | 'clutch' | 'eggCase'; value: string }
}

/** To what came of the windows that were given for it. */
export function PastWindowsLink({ workspace, of }: Props) {
  return (
    <Link
      href={`/w/${workspace}/past-windows?${of.name}=${of.value}`}
      prefetch={false}
      className="no-print target inline-flex items-center text-small"
    >
      How good were our windows
    </Link>
  )
}
