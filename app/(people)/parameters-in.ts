/** The parameters of an address as a page is given them. */
export const parametersIn = (address: URLSearchParams): Record<string, string[]> =>
  Object.fromEntries([...address.keys()].map((name) => [name, address.getAll(name)]))
