/** The texts of a form's fields by name; what the framework sends along is left out. */
export function typedIn(data: FormData): Record<string, string> {
  return Object.fromEntries(
    [...data].flatMap(([name, value]) =>
      typeof value === 'string' && !name.startsWith('$') ? [[name, value]] : [],
    ),
  )
}
