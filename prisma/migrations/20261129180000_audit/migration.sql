-- Who changed what, when, and how it was before: a line of each, written by the database with the change itself.
-- CreateTable
CREATE TABLE "audit_lines" (
    "organisation_id" UUID NOT NULL,
    "place" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "act" TEXT NOT NULL,
    "subject" UUID,
    "vehicle_id" UUID,
    "row_count" INTEGER NOT NULL,
    "before" JSONB,
    "after" JSONB,
    "salt" UUID,
    "content_hash" BYTEA NOT NULL,
    "hash" BYTEA NOT NULL,

    CONSTRAINT "audit_lines_pkey" PRIMARY KEY ("organisation_id","place")
);

-- CreateIndex
CREATE INDEX "audit_lines_organisation_id_at_place_idx" ON "audit_lines"("organisation_id", "at", "place");

-- CreateIndex
CREATE INDEX "audit_lines_organisation_id_actor_place_idx" ON "audit_lines"("organisation_id", "actor", "place");

-- CreateIndex
CREATE INDEX "audit_lines_organisation_id_what_place_idx" ON "audit_lines"("organisation_id", "what", "place");

-- CreateIndex
CREATE INDEX "audit_lines_organisation_id_actor_what_place_idx" ON "audit_lines"("organisation_id", "actor", "what", "place");

-- CreateIndex
CREATE INDEX "audit_lines_organisation_id_vehicle_id_place_idx" ON "audit_lines"("organisation_id", "vehicle_id", "place");


-- By hand: row-level security, as for the other tables. The product's role may read this one and no more.
ALTER TABLE "audit_lines" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "audit_lines" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "audit_lines" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);

-- What writes the lines stands in a schema that the product's role cannot enter: it works through triggers alone, with
-- the rights of the tables' owner.
CREATE SCHEMA "audit";

-- Lines of a transaction that goes on; emptied as it ends, so that nobody ever sees a row of another's. It needs no
-- log: where the server breaks off, the transaction is gone, too.
CREATE UNLOGGED TABLE "audit"."pending" (
    "transaction" XID8 NOT NULL DEFAULT pg_current_xact_id(),
    "organisation_id" UUID NOT NULL,
    "sequence" BIGINT GENERATED ALWAYS AS IDENTITY,
    "what" TEXT NOT NULL,
    "act" TEXT NOT NULL,
    "subject" UUID,
    "vehicle_id" UUID,
    "row_count" INTEGER NOT NULL DEFAULT 1,
    "before" JSONB,
    "after" JSONB,
    PRIMARY KEY ("transaction", "organisation_id", "sequence")
);

-- Of which tables there are lines. `left_out`: columns that follow from others, say who and when as the line itself
-- does, or are too large; `unsaid`: that they changed is told, never what they say.
CREATE TABLE "audit"."watched" (
    "name" TEXT PRIMARY KEY,
    "left_out" TEXT[] NOT NULL,
    "unsaid" TEXT[] NOT NULL
);

-- More rows of a kind in one transaction are counted, not told one by one.
CREATE FUNCTION "audit"."most_told"() RETURNS INTEGER LANGUAGE SQL IMMUTABLE PARALLEL SAFE AS $$ SELECT 20 $$;

-- Bringing a backup back writes lines of its own time back, too, and must not add any. Only who owns the tables can ask
-- for that: `session_user` stays whoever came in, whatever rights a function runs with.
CREATE FUNCTION "audit"."is_off"() RETURNS BOOLEAN LANGUAGE SQL STABLE AS $$
  SELECT coalesce(current_setting('gudgeon.unaudited', true), '') = 'yes'
    AND pg_has_role(session_user, (SELECT relowner FROM pg_class WHERE oid = 'public.audit_lines'::regclass), 'member')
$$;

-- Of one row, what the other says otherwise.
CREATE FUNCTION "audit"."differing"("told" JSONB, "other" JSONB) RETURNS JSONB LANGUAGE SQL IMMUTABLE PARALLEL SAFE AS $$
  SELECT jsonb_object_agg(key, value) FROM jsonb_each(told) WHERE value IS DISTINCT FROM other -> key
$$;

-- As a transaction ends, its lines are put behind the organisation's last one: each carries the SHA-256 of the one
-- before and of itself. Who writes for the same organisation waits only from here to the end, which is near: nothing is
-- left to be done that could wait for somebody else. The lock makes places and times grow together.
CREATE FUNCTION "audit"."chain"() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  line RECORD;
  before_it RECORD;
  v_actor TEXT := coalesce(nullif(current_setting('gudgeon.actor', true), ''), 'database:' || session_user);
  v_place BIGINT;
  v_at TIMESTAMPTZ(3);
  v_salt UUID;
  v_content BYTEA;
  v_hash BYTEA;
BEGIN
  IF NOT EXISTS (SELECT FROM audit.pending
    WHERE transaction = pg_current_xact_id() AND organisation_id = NEW.organisation_id) THEN
    RETURN NULL;
  END IF;
  PERFORM set_config('gudgeon.organisation', NEW.organisation_id::text, true);
  PERFORM pg_advisory_xact_lock(hashtextextended('audit of ' || NEW.organisation_id, 0));
  SELECT place, at, hash INTO before_it FROM public.audit_lines
    WHERE organisation_id = NEW.organisation_id ORDER BY place DESC LIMIT 1;
  v_place := coalesce(before_it.place, 0);
  v_hash := coalesce(before_it.hash, ''::bytea);
  v_at := greatest(clock_timestamp()::timestamptz(3), before_it.at);
  FOR line IN
    WITH ended AS (
      DELETE FROM audit.pending WHERE transaction = pg_current_xact_id() AND organisation_id = NEW.organisation_id
      RETURNING *),
    counted AS (SELECT *, sum(row_count) OVER (PARTITION BY what, act) > audit.most_told() AS many FROM ended)
    SELECT what, act, min(sequence) AS first, sum(row_count)::integer AS row_count,
      CASE WHEN NOT many THEN (array_agg(subject))[1] END AS subject,
      CASE WHEN count(DISTINCT vehicle_id) = 1 AND count(vehicle_id) = count(*) THEN (array_agg(vehicle_id))[1]
        END AS vehicle_id,
      CASE WHEN NOT many THEN (array_agg(before))[1] END AS before,
      CASE WHEN NOT many THEN (array_agg(after))[1]
        WHEN count(after ->> 'intake_id') > 0 THEN jsonb_build_object('intake_id', max(after ->> 'intake_id'))
        END AS after
    FROM counted GROUP BY what, act, many, CASE WHEN NOT many THEN sequence END ORDER BY first
  LOOP
    v_place := v_place + 1;
    v_salt := gen_random_uuid();
    v_content := sha256(convert_to(concat(v_salt, E'\n', line.before, E'\n', line.after), 'UTF8'));
    v_hash := sha256(v_hash || v_content || convert_to(concat(v_place, E'\n',
      to_char(v_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), E'\n', v_actor, E'\n', line.what, E'\n',
      line.act, E'\n', line.subject, E'\n', line.vehicle_id, E'\n', line.row_count), 'UTF8'));
    INSERT INTO public.audit_lines (organisation_id, place, at, actor, what, act, subject, vehicle_id, row_count,
      before, after, salt, content_hash, hash)
    VALUES (NEW.organisation_id, v_place, v_at, v_actor, line.what, line.act, line.subject, line.vehicle_id,
      line.row_count, line.before, line.after, v_salt, v_content, v_hash);
  END LOOP;
  RETURN NULL;
END
$$;
CREATE CONSTRAINT TRIGGER "chain" AFTER INSERT ON "audit"."pending" DEFERRABLE INITIALLY DEFERRED
  FOR EACH ROW EXECUTE FUNCTION "audit"."chain"();

-- Not even the tables' owner changes a line by mistake: what it says may be taken out of it (its salt goes with it, so
-- that nobody can try what it was), nothing else of it, ever.
CREATE FUNCTION "audit"."keep_line"() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' THEN
    IF NEW.salt IS NULL AND (NEW.organisation_id, NEW.place, NEW.at, NEW.actor, NEW.what, NEW.act, NEW.subject,
        NEW.vehicle_id, NEW.row_count, NEW.content_hash, NEW.hash)
      IS NOT DISTINCT FROM (OLD.organisation_id, OLD.place, OLD.at, OLD.actor, OLD.what, OLD.act, OLD.subject,
        OLD.vehicle_id, OLD.row_count, OLD.content_hash, OLD.hash) THEN
      RETURN NEW;
    END IF;
  END IF;
  RAISE EXCEPTION 'Lines of the audit trail are only ever added';
END
$$;
CREATE TRIGGER "keep" BEFORE UPDATE OR DELETE ON "audit_lines" FOR EACH ROW EXECUTE FUNCTION "audit"."keep_line"();
CREATE TRIGGER "keep_all" BEFORE TRUNCATE ON "audit_lines" FOR EACH STATEMENT EXECUTE FUNCTION "audit"."keep_line"();

-- The columns of a table that are told, of the row that goes by the name `row`, as a JSON object.
CREATE FUNCTION "audit"."told"("of" REGCLASS, "row" TEXT, "left_out" TEXT[], "unsaid" TEXT[], "other" TEXT DEFAULT NULL)
RETURNS TEXT LANGUAGE SQL STABLE AS $$
  SELECT format('(SELECT to_jsonb(audit_row) FROM (SELECT %s) AS audit_row)', string_agg(
    CASE WHEN attname = ANY (unsaid) THEN format(
        CASE WHEN other IS NULL THEN 'CASE WHEN %1$s.%2$I IS NOT NULL THEN ''(not told)'' END AS %2$I'
          ELSE 'CASE WHEN %1$s.%2$I IS NOT NULL THEN CASE WHEN %1$s.%2$I::text = %3$s.%2$I::text
            THEN ''(not told)'' ELSE ''(not told, another)'' END END AS %2$I' END, "row", attname, other)
      ELSE format('%s.%I', "row", attname) END, ', ' ORDER BY attnum))
  FROM pg_attribute WHERE attrelid = "of" AND attnum > 0 AND NOT attisdropped
    AND attname <> ALL (left_out) AND attname NOT IN ('organisation_id', 'id', 'vehicle_id')
$$;

-- Whether two rows of a table differ in what is told of them.
CREATE FUNCTION "audit"."differ"("of" REGCLASS, "one" TEXT, "other" TEXT, "left_out" TEXT[])
RETURNS TEXT LANGUAGE SQL STABLE AS $$
  SELECT format('(%s) IS DISTINCT FROM (%s)',
    string_agg(format(term, one, attname), ', ' ORDER BY attnum),
    string_agg(format(term, other, attname), ', ' ORDER BY attnum))
  FROM (SELECT attname, attnum, CASE WHEN atttypid = 'json'::regtype THEN '%s.%I::text' ELSE '%s.%I' END AS term
    FROM pg_attribute WHERE attrelid = "of" AND attnum > 0 AND NOT attisdropped AND attname <> ALL (left_out)) AS columns
$$;

-- Writes a line of every change of a table from now on. Asked for again when a table gets another column.
--   whose, subject, vehicle: whose the row is, which it is, and of which vehicle; `@` stands for the row
--   corrected: the rows of a table in which a correction is a row of its own (`supersedes_id`) are told as changes
--   one_by_one: changes are told row by row, without a look at rows in which nothing that is told has changed
CREATE FUNCTION "audit"."watch"("name" TEXT, "left_out" TEXT[], "unsaid" TEXT[] DEFAULT '{}',
  "vehicle" TEXT DEFAULT 'NULL::uuid', "subject" TEXT DEFAULT '@.id', "whose" TEXT DEFAULT '@.organisation_id',
  "corrected" BOOLEAN DEFAULT false, "one_by_one" BOOLEAN DEFAULT false)
RETURNS VOID LANGUAGE plpgsql AS $$
DECLARE
  t REGCLASS := format('public.%I', name)::regclass;
  of_new TEXT := format('%s, %L, %%L, %s, %s', replace(whose, '@', 'n'), name, replace(subject, '@', 'n'), replace(vehicle, '@', 'n'));
  of_old TEXT := format('%s, %L, %%L, %s, %s', replace(whose, '@', 'o'), name, replace(subject, '@', 'o'), replace(vehicle, '@', 'o'));
  new_row TEXT := audit.told(t, 'n', left_out, unsaid);
  new_compared TEXT := audit.told(t, 'n', left_out, unsaid, 'o');
  old_row TEXT := audit.told(t, 'o', left_out, unsaid);
  head CONSTANT TEXT := 'INSERT INTO audit.pending (organisation_id, what, act, subject, vehicle_id, before, after) ';
  has_intake BOOLEAN := EXISTS (SELECT FROM pg_attribute WHERE attrelid = t AND attname = 'intake_id' AND NOT attisdropped);
  many CONSTANT TEXT := format('INSERT INTO audit.pending (organisation_id, what, act, row_count, after)
    SELECT %s, %L, %%L, count(*), %s FROM %%s GROUP BY 1', replace(whose, '@', 'r'), name,
    CASE WHEN has_intake THEN 'jsonb_strip_nulls(jsonb_build_object(''intake_id'', max(r.intake_id::text)))' ELSE 'NULL::jsonb' END);
  keys TEXT := (SELECT string_agg(format('n.%1$I = o.%1$I', attname), ' AND ')
    FROM pg_index JOIN pg_attribute ON attrelid = indrelid AND attnum = ANY (indkey) WHERE indrelid = t AND indisprimary);
  changed TEXT := audit.differ(t, 'n', 'o', left_out);
  wrapped CONSTANT TEXT := 'CREATE OR REPLACE FUNCTION audit.%I() RETURNS TRIGGER LANGUAGE plpgsql SECURITY DEFINER
    SET search_path = pg_catalog, pg_temp AS $body$
    DECLARE how_many INTEGER;
    BEGIN
      IF audit.is_off() THEN RETURN NULL; END IF;
      %s
      RETURN NULL;
    END $body$';
  few_or_many CONSTANT TEXT := 'SELECT count(*) INTO how_many FROM (SELECT FROM %s LIMIT audit.most_told() + 1) AS first_rows;
      IF how_many > audit.most_told() THEN %s; ELSE %s; END IF;';
BEGIN
  INSERT INTO audit.watched VALUES (name, left_out, unsaid) ON CONFLICT ON CONSTRAINT watched_pkey
    DO UPDATE SET left_out = excluded.left_out, unsaid = excluded.unsaid;

  EXECUTE format(wrapped, name || '_added', format(few_or_many, 'new_rows', format(many, 'added', 'new_rows r'),
    CASE WHEN corrected THEN
      head || 'SELECT ' || format(of_new, 'added') || ', NULL, jsonb_strip_nulls(' || new_row || ')
        FROM new_rows n WHERE n.supersedes_id IS NULL;
      ' || head || 'SELECT ' || format(of_new, 'corrected') || ', audit.differing(' || old_row || ', ' || new_compared
        || '), audit.differing(' || new_compared || ', ' || old_row || ')
        FROM new_rows n JOIN public.' || quote_ident(name) || ' o ON o.organisation_id = n.organisation_id AND o.id = n.supersedes_id'
    ELSE head || 'SELECT ' || format(of_new, 'added') || ', NULL, jsonb_strip_nulls(' || new_row || ') FROM new_rows n' END));
  EXECUTE format(wrapped, name || '_removed', format(few_or_many, 'old_rows', format(many, 'removed', 'old_rows r'),
    head || 'SELECT ' || format(of_old, 'removed') || ', jsonb_strip_nulls(' || old_row || '), NULL FROM old_rows o'));
  EXECUTE format('CREATE OR REPLACE TRIGGER audit_added AFTER INSERT ON %s REFERENCING NEW TABLE AS new_rows
    FOR EACH STATEMENT EXECUTE FUNCTION audit.%I()', t, name || '_added');
  EXECUTE format('CREATE OR REPLACE TRIGGER audit_removed AFTER DELETE ON %s REFERENCING OLD TABLE AS old_rows
    FOR EACH STATEMENT EXECUTE FUNCTION audit.%I()', t, name || '_removed');

  IF one_by_one THEN
    EXECUTE format(wrapped, name || '_changed', head || 'SELECT ' || format(of_new, 'changed') || ', audit.differing('
      || old_row || ', ' || new_compared || '), audit.differing(' || new_compared || ', ' || old_row || ')
      FROM (SELECT NEW.*) AS n, (SELECT OLD.*) AS o;');
    EXECUTE format('DROP TRIGGER IF EXISTS audit_changed ON %s', t);
    EXECUTE format('CREATE TRIGGER audit_changed AFTER UPDATE ON %s FOR EACH ROW WHEN (%s)
      EXECUTE FUNCTION audit.%I()', t, audit.differ(t, 'NEW', 'OLD', left_out), name || '_changed');
  ELSE
    -- Many rows are compared by a plan that is made for as many.
    EXECUTE format(wrapped, name || '_changed', format(few_or_many, 'new_rows',
      'EXECUTE ' || quote_literal(format(many, 'changed', format('new_rows r WHERE EXISTS (SELECT FROM old_rows o WHERE %s AND %s)',
        replace(keys, 'n.', 'r.'), audit.differ(t, 'r', 'o', left_out)))),
      head || 'SELECT ' || format(of_new, 'changed') || ', audit.differing(' || old_row || ', ' || new_compared
        || '), audit.differing(' || new_compared || ', ' || old_row || ') FROM new_rows n JOIN old_rows o ON ' || keys
        || ' WHERE ' || changed));
    EXECUTE format('CREATE OR REPLACE TRIGGER audit_changed AFTER UPDATE ON %s
      REFERENCING OLD TABLE AS old_rows NEW TABLE AS new_rows FOR EACH STATEMENT EXECUTE FUNCTION audit.%I()',
      t, name || '_changed');
  END IF;
END
$$;

-- What people change.
SELECT "audit"."watch"('vehicles',
  '{sequence, entered_at, entered_by, line, withdrawn_by, records_version, scored_from, usage_facts, usage_facts_version, usage_facts_as_of}',
  vehicle => '@.id', one_by_one => true);

SELECT "audit"."watch"(name, '{sequence, entered_at, entered_by, line, withdrawn_by, content_hash, corrects_hash, superseded_by, superseded_at, supersedes_id}',
  vehicle => '@.vehicle_id', corrected => true)
FROM unnest('{readings, codes, checks, repairs, changes}'::text[]) AS name;

SELECT "audit"."watch"('libraries', '{content, content_hash, entered_at, entered_by}');
SELECT "audit"."watch"('library_drafts', '{made_by, made_at, changed_at}', '{family}');
SELECT "audit"."watch"('family_takings', '{file, made_by, made_at, taken_by}', '{choices}');
SELECT "audit"."watch"('fits', '{content, made_at, made_by}');
SELECT "audit"."watch"('intakes', '{made_by, made_at, summary}');
SELECT "audit"."watch"('intake_files', '{content, hash, accepted, unchanged, superseded, rejected}');
SELECT "audit"."watch"('workbooks', '{content, profile, earlier, told, made_by, made_at}', '{mapping}');

SELECT "audit"."watch"('stop_notices', '{raised_at, told_by, parked_by, released_by}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('proposals', '{made_by, made_at, chances, evidence}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('proposal_acts', '{at, by, undone_by, proposal_id}',
  vehicle => '(SELECT p.vehicle_id FROM public.proposals p WHERE p.organisation_id = @.organisation_id AND p.id = @.proposal_id)');
SELECT "audit"."watch"('part_lines', '{entered_at, entered_by, withdrawn_by}');
SELECT "audit"."watch"('letters', '{content, written_at, written_by, proposal_acts, undone_by, customer_key}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('letter_opt_outs', '{noted_at, noted_by, undone_by, customer_key}');
SELECT "audit"."watch"('photographs', '{content, entered_at, entered_by, withdrawn_by}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('cover_terms', '{made_at, made_by, undone_by}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('vehicle_labels', '{made_at, made_by, ended_by}', '{secret}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('driver_reports', '{received_at}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('driver_report_acts', '{at, by, undone_by, report_id}',
  vehicle => '(SELECT r.vehicle_id FROM public.driver_reports r WHERE r.organisation_id = @.organisation_id AND r.id = @.report_id)');

SELECT "audit"."watch"('plan_terms', '{made_at, made_by}');
SELECT "audit"."watch"('plans', '{content, made_at, made_by, gain, bound}');
SELECT "audit"."watch"('plan_visits', '{made_at, made_by, gain}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('plan_work', '{made_at, made_by}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('plan_closed', '{made_at, made_by}', vehicle => '@.vehicle_id');
SELECT "audit"."watch"('plan_acts', '{told, before, at, by, undone_by}');

SELECT "audit"."watch"('organisations', '{created_at}', subject => '@.id', whose => '@.id');
SELECT "audit"."watch"('memberships', '{made_at}', subject => '@.person_id');
SELECT "audit"."watch"('tokens', '{made_at, made_by, last_used_at}', '{secret_hash}');
SELECT "audit"."watch"('webhooks', '{changed_at, changed_by}', '{secret, former_secret}', subject => 'NULL::uuid');
SELECT "audit"."watch"('digest_wishes', '{changed_at}', '{secret}', subject => '@.person_id');
SELECT "audit"."watch"('saved_views', '{made_at, made_by}');
