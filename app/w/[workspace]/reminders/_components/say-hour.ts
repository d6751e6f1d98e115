/** "07:00": hours as a clock shows them. */
export function sayHour(hour: number): string {
  return `${String(hour).padStart(2, '0')}:00`
}
