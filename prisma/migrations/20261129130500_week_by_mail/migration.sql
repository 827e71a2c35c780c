-- Who wants the week by mail, and the mails.
-- CreateTable
CREATE TABLE "digest_wishes" (
    "organisation_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "wanted" BOOLEAN NOT NULL,
    "weekday" INTEGER NOT NULL,
    "hour" INTEGER NOT NULL,
    "secret" BYTEA NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "digest_wishes_pkey" PRIMARY KEY ("organisation_id","person_id")
);

-- CreateTable
CREATE TABLE "digest_mails" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "week_on" DATE NOT NULL,
    "to_on" DATE NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "tries" INTEGER NOT NULL DEFAULT 0,
    "next_try_at" TIMESTAMPTZ(3),
    "sent_at" TIMESTAMPTZ(3),
    "failure" TEXT,

    CONSTRAINT "digest_mails_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "digest_mails_organisation_id_person_id_week_on_key" ON "digest_mails"("organisation_id", "person_id", "week_on");


-- By hand: row-level security, as for the other tables.
ALTER TABLE "digest_wishes" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "digest_wishes" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "digest_wishes" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "digest_mails" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "digest_mails" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "digest_mails" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
