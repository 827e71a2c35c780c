type Props = { sites: readonly string[]; value: string }

/** One of an organisation's sites, or all of them; nothing where it has none. */
export function SiteChoice({ sites, value }: Props) {
  if (sites.length === 0) return null
  return (
    <label>
      Site
      <select name="site" defaultValue={value}>
        <option value="">all sites</option>
        {sites.map((site) => (
          <option key={site} value={site}>
            {site}
          </option>
        ))}
      </select>
    </label>
  )
}
