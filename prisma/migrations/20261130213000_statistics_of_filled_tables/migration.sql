-- A table that was filled a moment ago is taken for nearly empty until the server has looked at it, and every question
-- reads all of an organisation's rows where an index would find a vehicle's. Who works with the rows may not look by its
-- own right, for it owns no table. A table that was never looked at has a negative number of rows; one that was empty, or
-- of which more rows have changed since than there were, is looked at again.
CREATE FUNCTION "look_at_filled_tables"() RETURNS INTEGER LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  v_table NAME;
  v_looked_at INTEGER := 0;
BEGIN
  FOR v_table IN
    SELECT relname FROM pg_class
    WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND pg_relation_size(oid) > 0
      AND (reltuples < 0
        OR (reltuples = 0 AND pg_stat_get_mod_since_analyze(oid) > 0)
        OR pg_stat_get_mod_since_analyze(oid) > reltuples + 1000)
    ORDER BY relname
  LOOP
    EXECUTE format('ANALYZE public.%I', v_table);
    v_looked_at := v_looked_at + 1;
  END LOOP;
  RETURN v_looked_at;
END $$;

REVOKE EXECUTE ON FUNCTION "look_at_filled_tables"() FROM PUBLIC;
