type Props = { at: string; timeZone: string }

/** An instant as the clock on the workspace's wall showed it. */
export function Moment({ at, timeZone }: Props) {
  const written = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short', timeZone })
  return <time dateTime={at}>{written.format(new Date(at))}</time>
}
