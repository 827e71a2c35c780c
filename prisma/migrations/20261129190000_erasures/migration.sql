-- What is known of a customer can be taken out of every row; that it was, by whom and when stays.
-- CreateTable
CREATE TABLE "erasures" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "mark" TEXT NOT NULL,
    "rows" JSONB NOT NULL,
    "lines" JSONB NOT NULL,
    "erased_at" TIMESTAMPTZ(3) NOT NULL,
    "erased_by" UUID,

    CONSTRAINT "erasures_pkey" PRIMARY KEY ("organisation_id","id")
);


-- By hand: row-level security, as for the other tables. The product's role may read this one and no more.
ALTER TABLE "erasures" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "erasures" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "erasures" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
SELECT "audit"."watch"('erasures', '{erased_at, erased_by}');

-- Puts something else in the place of each word that is found; `finds` are regular expressions, each with what is `put` in
-- the place of what it finds. In JSON that is done in texts and names alone: a number stays a number.
CREATE FUNCTION "text_without_words"("told" TEXT, "finds" TEXT[], "puts" TEXT[]) RETURNS TEXT LANGUAGE plpgsql IMMUTABLE AS $$
BEGIN
  FOR i IN 1 .. cardinality(finds) LOOP
    told := regexp_replace(told, finds[i], puts[i], 'gi');
  END LOOP;
  RETURN told;
END
$$;

CREATE FUNCTION "json_without_words"("told" JSONB, "finds" TEXT[], "puts" TEXT[]) RETURNS JSONB LANGUAGE plpgsql IMMUTABLE AS $$
BEGIN
  RETURN CASE jsonb_typeof(told)
    WHEN 'string' THEN to_jsonb(public.text_without_words(told #>> '{}', finds, puts))
    WHEN 'array' THEN (SELECT coalesce(jsonb_agg(public.json_without_words(value, finds, puts) ORDER BY place), '[]')
      FROM jsonb_array_elements(told) WITH ORDINALITY AS each(value, place))
    WHEN 'object' THEN (SELECT coalesce(jsonb_object_agg(public.text_without_words(key, finds, puts), public.json_without_words(value, finds, puts)), '{}')
      FROM jsonb_each(told))
    ELSE told END;
END
$$;

CREATE FUNCTION "without_words"("told" TEXT, "finds" TEXT[], "puts" TEXT[]) RETURNS TEXT LANGUAGE plpgsql IMMUTABLE AS $$
BEGIN
  IF told ~ '^\s*[\[{]' THEN
    BEGIN
      RETURN public.json_without_words(told::jsonb, finds, puts)::text;
    EXCEPTION WHEN invalid_text_representation THEN
      NULL; -- it only looks like JSON
    END;
  END IF;
  RETURN public.text_without_words(told, finds, puts);
END
$$;

-- Takes words out of the organisation's audit trail and writes down that it was done: the only way in which a line comes
-- to say less. Lines of this transaction that now tell no difference are dropped, for what they told is what is erased.
-- The hashes of what is left of the earlier lines stand in the row, and so in the chain, so that none can be changed in
-- the name of an erasure that did not touch it.
CREATE FUNCTION "erase_from_audit"("finds" TEXT[], "puts" TEXT[], "erasure" UUID, "given_mark" TEXT, "changed" JSONB, "now_is" TIMESTAMPTZ, "by_whom" UUID)
RETURNS INTEGER LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  ours UUID := public.own_organisation();
  wanted TEXT := array_to_string(finds, '|');
  touched JSONB;
BEGIN
  IF EXISTS (SELECT FROM unnest(puts || given_mark) AS put WHERE put !~ '^erased-[0-9a-f]{8}(-\d+)?$') OR ours IS NULL THEN
    RAISE EXCEPTION 'Words are erased by a mark, and of one organisation';
  END IF;
  UPDATE audit.pending SET before = public.without_words(before::text, finds, puts)::jsonb,
      after = public.without_words(after::text, finds, puts)::jsonb
    WHERE transaction = pg_current_xact_id() AND organisation_id = ours;
  DELETE FROM audit.pending WHERE transaction = pg_current_xact_id() AND organisation_id = ours
    AND act = 'changed' AND row_count = 1 AND before IS NOT DISTINCT FROM after;
  WITH emptied AS (
    UPDATE public.audit_lines SET before = public.without_words(before::text, finds, puts)::jsonb,
      after = public.without_words(after::text, finds, puts)::jsonb, salt = NULL
    WHERE organisation_id = ours AND concat(before, E'\n', after) ~* wanted
    RETURNING place, encode(sha256(convert_to(concat(before, E'\n', after), 'UTF8')), 'hex') AS rest)
  SELECT coalesce(jsonb_object_agg(place::text, rest), '{}') INTO touched FROM emptied;
  INSERT INTO public.erasures (organisation_id, id, mark, rows, lines, erased_at, erased_by)
    VALUES (ours, erasure, given_mark, changed, touched, now_is, by_whom);
  RETURN (SELECT count(*) FROM jsonb_object_keys(touched));
END
$$;
