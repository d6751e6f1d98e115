import { TextField } from '../ui/text-field'

/** Asked for once the password was right. Letters too, since a recovery code fits here as well. */
export function CodeField() {
  return (
    <TextField
      label="Code"
      name="code"
      autoComplete="one-time-code"
      autoCapitalize="characters"
      autoFocus
      hint="Six figures of the app, or a recovery code."
    />
  )
}
