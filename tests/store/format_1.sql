PRAGMA application_id = 1213680177;
PRAGMA user_version = 1;
CREATE TABLE entry (
    id INTEGER PRIMARY KEY,
    recorded_at TEXT NOT NULL CHECK (recorded_at LIKE '____-__-__T%Z'),
    "by" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    note TEXT NOT NULL,
    corrects INTEGER REFERENCES entry (id) CHECK (corrects < id),
    program TEXT NOT NULL,
    digest TEXT NOT NULL CHECK (length(digest) = 64),
    CHECK (corrects IS NULL OR trim(note) <> '')
) STRICT;
CREATE TABLE hotel_described (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "name" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "paper" TEXT NOT NULL,
    "leave_by" TEXT NOT NULL,
    "arrive_from" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE cycle_chosen (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "scope" TEXT NOT NULL CHECK ("scope" IN ('house', 'room_type', 'room')),
    "which" TEXT NOT NULL,
    "cycle_days" INTEGER NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE team_described (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "team" TEXT NOT NULL,
    "people" INTEGER NOT NULL,
    "minutes" INTEGER NOT NULL,
    "works_on" TEXT NOT NULL,
    "in_use" INTEGER NOT NULL CHECK ("in_use" IN (0, 1)),
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE floor_placed (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "floor" TEXT NOT NULL,
    "level" INTEGER NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE wing_placed (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "wing" TEXT NOT NULL,
    "x_m" REAL NOT NULL,
    "y_m" REAL NOT NULL,
    "bearing_deg" REAL NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE room_described (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "room" TEXT NOT NULL,
    "floor" TEXT NOT NULL,
    "wing" TEXT NOT NULL,
    "side" TEXT NOT NULL CHECK ("side" IN ('left', 'right', 'end')),
    "order" INTEGER NOT NULL,
    "room_type" TEXT NOT NULL,
    "connects_to" TEXT NOT NULL,
    "suite" TEXT NOT NULL,
    "width_m" REAL NOT NULL,
    "in_use" INTEGER NOT NULL CHECK ("in_use" IN (0, 1)),
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE bed_described (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "bed" TEXT NOT NULL,
    "room" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "encased" INTEGER NOT NULL CHECK ("encased" IN (0, 1)),
    "in_use" INTEGER NOT NULL CHECK ("in_use" IN (0, 1)),
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE stays_imported (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "file_name" TEXT NOT NULL,
    "file_sha256" TEXT NOT NULL,
    "replaces_from" TEXT NOT NULL,
    "taken" INTEGER NOT NULL,
    "refused" INTEGER NOT NULL,
    "stays_sha256" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE round_published (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "from_on" TEXT NOT NULL,
    "until_on" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE slot_published (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "on" TEXT NOT NULL,
    "team" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "room" TEXT NOT NULL,
    "beds" TEXT NOT NULL,
    "minutes" INTEGER NOT NULL,
    "asked_by" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE bed_checked (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "bed" TEXT NOT NULL,
    "room" TEXT NOT NULL,
    "checked_on" TEXT NOT NULL,
    "kind" TEXT NOT NULL CHECK ("kind" IN ('deep', 'brief', 'asked', 'clearance')),
    "by" TEXT NOT NULL,
    "minutes" INTEGER NOT NULL,
    "seen" TEXT NOT NULL,
    "unseen" TEXT NOT NULL,
    "found" TEXT NOT NULL,
    "asked_by" TEXT NOT NULL,
    "noted" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE room_checked (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "room" TEXT NOT NULL,
    "checked_on" TEXT NOT NULL,
    "kind" TEXT NOT NULL CHECK ("kind" IN ('deep', 'brief', 'asked', 'clearance')),
    "by" TEXT NOT NULL,
    "seen" TEXT NOT NULL,
    "unseen" TEXT NOT NULL,
    "found" TEXT NOT NULL,
    "asked_by" TEXT NOT NULL,
    "noted" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE sighted (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "case" TEXT NOT NULL,
    "room" TEXT NOT NULL,
    "bed" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "sign" TEXT NOT NULL CHECK ("sign" IN ('live_insect', 'eggs', 'cast_skin', 'dark_spots', 'blood_spot', 'dead_insect', 'bites_reported', 'guest_word')),
    "count" INTEGER NOT NULL,
    "seen_by" TEXT NOT NULL,
    "seen_at" TEXT NOT NULL,
    "noted" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE photo_kept (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "case" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "size_bytes" INTEGER NOT NULL,
    "caption" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE quarantine_placed (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "room" TEXT NOT NULL,
    "case" TEXT NOT NULL,
    "from_at" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE quarantine_lifted (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "room" TEXT NOT NULL,
    "case" TEXT NOT NULL,
    "lifted_at" TEXT NOT NULL,
    "by" TEXT NOT NULL,
    "conditions_met" INTEGER NOT NULL CHECK ("conditions_met" IN (0, 1)),
    "reason" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE check_asked (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "case" TEXT NOT NULL,
    "room" TEXT NOT NULL,
    "reasons" TEXT NOT NULL,
    "by_at" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE case_judged (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "case" TEXT NOT NULL,
    "outcome" TEXT NOT NULL CHECK ("outcome" IN ('confirmed', 'not_bed_bug', 'undetermined')),
    "judged_by" TEXT NOT NULL,
    "competence" TEXT NOT NULL,
    "judged_on" TEXT NOT NULL,
    "noted" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE treatment_recorded (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "case" TEXT NOT NULL,
    "room" TEXT NOT NULL,
    "treated_on" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "firm" TEXT NOT NULL,
    "licence" TEXT NOT NULL,
    "reenter_at" TEXT NOT NULL,
    "noted" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE month_closed (
    entry INTEGER NOT NULL REFERENCES entry (id),
    line INTEGER NOT NULL CHECK (line > 0),
    "month" TEXT NOT NULL,
    PRIMARY KEY (entry, line)
) STRICT, WITHOUT ROWID;
CREATE TABLE stay (
    line INTEGER PRIMARY KEY,
    "booking" TEXT NOT NULL,
    "room" TEXT NOT NULL,
    "room_type" TEXT NOT NULL,
    "arrives_on" TEXT NOT NULL,
    "leaves_on" TEXT NOT NULL,
    "status" TEXT NOT NULL CHECK ("status" IN ('booked', 'in_house', 'left', 'cancelled', 'no_show'))
) STRICT;
INSERT INTO "entry" VALUES (1, '2026-03-09T07:30:00Z', 'maria', 'describe_hotel', '', NULL, 'hotelwatch 0.1.0', '083edf359754babba2eff93b02b51dd168fd0b3978dde88caa3d418b608868c1');
INSERT INTO "entry" VALUES (2, '2026-03-09T07:30:00Z', 'maria', 'load_roster', '', NULL, 'hotelwatch 0.1.0', 'f892c8bc04bfe089587f7197d5fa787ef6e92bf3090ee16e9d819dae1f649002');
INSERT INTO "entry" VALUES (3, '2026-03-09T07:30:00Z', 'maria', 'describe_teams', '', NULL, 'hotelwatch 0.1.0', '1e92e27c64602f5bf393b76eec96deab33ee37a645684f0f2b4c889105db28ac');
INSERT INTO "entry" VALUES (4, '2026-03-09T07:30:00Z', 'maria', 'describe_teams', '', NULL, 'hotelwatch 0.1.0', 'dd478f35f9e40be55bf385c2fcc4a5e61211ed50411f8d03abadcc497c22a768');
INSERT INTO "entry" VALUES (5, '2026-03-09T07:30:00Z', 'maria', 'record_check', '', NULL, 'hotelwatch 0.1.0', '3d71f706768ec9bd5a7f04cb193ae274723cb84e2441d60ac8ae25ae72225cf7');
INSERT INTO "entry" VALUES (6, '2026-03-09T07:30:00Z', 'maria', 'import_stays', '', NULL, 'hotelwatch 0.1.0', '1ab4ad56641325b1811c011b0c47ec35a3da12b3af6c4c6d6eb3514430415b90');
INSERT INTO "hotel_described" VALUES (1, 1, 'House of format one', 'Europe/Vienna', 'A4', '11:00', '15:00');
INSERT INTO "team_described" VALUES (3, 1, 'Early', 2, 120, 'mon
tue
wed
thu
fri', 1);
INSERT INTO "team_described" VALUES (3, 2, 'Weekend', 2, 60, 'sat
sun', 1);
INSERT INTO "team_described" VALUES (4, 1, 'Early', 3, 90, 'mon
tue
wed
thu
fri', 1);
INSERT INTO "floor_placed" VALUES (2, 1, '1', 1);
INSERT INTO "room_described" VALUES (2, 2, '101', '1', '', 'left', 1, 'Double', '', '', 0.0, 1);
INSERT INTO "room_described" VALUES (2, 4, '102', '1', '', 'left', 2, 'Double', '', '', 0.0, 1);
INSERT INTO "bed_described" VALUES (2, 3, '101/A', '101', 'box_spring', 0, 1);
INSERT INTO "bed_described" VALUES (2, 5, '102/A', '102', 'box_spring', 0, 1);
INSERT INTO "stays_imported" VALUES (6, 1, 'b.csv', '0000000000000000000000000000000000000000000000000000000000000000', '2026-03-09', 1, 0, '90deb021c39f5ae18df88a822a12cae9b794240ca4ccf72e7be09a57b4054380');
INSERT INTO "bed_checked" VALUES (5, 1, '101/A', '101', '2026-03-09', 'deep', 'anna
boris', 14, 'bedding
mattress_top
mattress_label
mattress_underside
base_edge
base_underside
base_staple_line
base_corner_caps
frame_joints
headboard_front', 'base_inside:not_asked', '', '', '');
INSERT INTO "room_checked" VALUES (5, 2, '101', '2026-03-09', 'deep', 'anna
boris', 'night_stands
pictures_lamps
seats
luggage_rack
skirting', 'headboard_back:not_asked', '', '', '');
INSERT INTO "stay" VALUES (1, 'b1', '102', 'Double', '2026-03-09', '2026-03-12', 'booked');
CREATE UNIQUE INDEX entry_corrects ON entry (corrects) WHERE corrects IS NOT NULL;
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER entry_at_end BEFORE INSERT ON entry WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM entry) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW hotel_described_now AS SELECT * FROM hotel_described WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER hotel_described_no_update BEFORE UPDATE ON hotel_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER hotel_described_no_delete BEFORE DELETE ON hotel_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER hotel_described_at_end BEFORE INSERT ON hotel_described WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM hotel_described WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW cycle_chosen_now AS SELECT * FROM cycle_chosen WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER cycle_chosen_no_update BEFORE UPDATE ON cycle_chosen BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER cycle_chosen_no_delete BEFORE DELETE ON cycle_chosen BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER cycle_chosen_at_end BEFORE INSERT ON cycle_chosen WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM cycle_chosen WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW team_described_now AS SELECT * FROM team_described WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER team_described_no_update BEFORE UPDATE ON team_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER team_described_no_delete BEFORE DELETE ON team_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER team_described_at_end BEFORE INSERT ON team_described WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM team_described WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW floor_placed_now AS SELECT * FROM floor_placed WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER floor_placed_no_update BEFORE UPDATE ON floor_placed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER floor_placed_no_delete BEFORE DELETE ON floor_placed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER floor_placed_at_end BEFORE INSERT ON floor_placed WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM floor_placed WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW wing_placed_now AS SELECT * FROM wing_placed WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER wing_placed_no_update BEFORE UPDATE ON wing_placed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER wing_placed_no_delete BEFORE DELETE ON wing_placed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER wing_placed_at_end BEFORE INSERT ON wing_placed WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM wing_placed WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW room_described_now AS SELECT * FROM room_described WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER room_described_no_update BEFORE UPDATE ON room_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER room_described_no_delete BEFORE DELETE ON room_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER room_described_at_end BEFORE INSERT ON room_described WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM room_described WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW bed_described_now AS SELECT * FROM bed_described WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER bed_described_no_update BEFORE UPDATE ON bed_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER bed_described_no_delete BEFORE DELETE ON bed_described BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER bed_described_at_end BEFORE INSERT ON bed_described WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM bed_described WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW stays_imported_now AS SELECT * FROM stays_imported WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER stays_imported_no_update BEFORE UPDATE ON stays_imported BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER stays_imported_no_delete BEFORE DELETE ON stays_imported BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER stays_imported_at_end BEFORE INSERT ON stays_imported WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM stays_imported WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW round_published_now AS SELECT * FROM round_published WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER round_published_no_update BEFORE UPDATE ON round_published BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER round_published_no_delete BEFORE DELETE ON round_published BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER round_published_at_end BEFORE INSERT ON round_published WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM round_published WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW slot_published_now AS SELECT * FROM slot_published WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER slot_published_no_update BEFORE UPDATE ON slot_published BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER slot_published_no_delete BEFORE DELETE ON slot_published BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER slot_published_at_end BEFORE INSERT ON slot_published WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM slot_published WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW bed_checked_now AS SELECT * FROM bed_checked WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER bed_checked_no_update BEFORE UPDATE ON bed_checked BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER bed_checked_no_delete BEFORE DELETE ON bed_checked BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER bed_checked_at_end BEFORE INSERT ON bed_checked WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM bed_checked WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW room_checked_now AS SELECT * FROM room_checked WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER room_checked_no_update BEFORE UPDATE ON room_checked BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER room_checked_no_delete BEFORE DELETE ON room_checked BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER room_checked_at_end BEFORE INSERT ON room_checked WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM room_checked WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW sighted_now AS SELECT * FROM sighted WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER sighted_no_update BEFORE UPDATE ON sighted BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER sighted_no_delete BEFORE DELETE ON sighted BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER sighted_at_end BEFORE INSERT ON sighted WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM sighted WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW photo_kept_now AS SELECT * FROM photo_kept WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER photo_kept_no_update BEFORE UPDATE ON photo_kept BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER photo_kept_no_delete BEFORE DELETE ON photo_kept BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER photo_kept_at_end BEFORE INSERT ON photo_kept WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM photo_kept WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW quarantine_placed_now AS SELECT * FROM quarantine_placed WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER quarantine_placed_no_update BEFORE UPDATE ON quarantine_placed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER quarantine_placed_no_delete BEFORE DELETE ON quarantine_placed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER quarantine_placed_at_end BEFORE INSERT ON quarantine_placed WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM quarantine_placed WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW quarantine_lifted_now AS SELECT * FROM quarantine_lifted WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER quarantine_lifted_no_update BEFORE UPDATE ON quarantine_lifted BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER quarantine_lifted_no_delete BEFORE DELETE ON quarantine_lifted BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER quarantine_lifted_at_end BEFORE INSERT ON quarantine_lifted WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM quarantine_lifted WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW check_asked_now AS SELECT * FROM check_asked WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER check_asked_no_update BEFORE UPDATE ON check_asked BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER check_asked_no_delete BEFORE DELETE ON check_asked BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER check_asked_at_end BEFORE INSERT ON check_asked WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM check_asked WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW case_judged_now AS SELECT * FROM case_judged WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER case_judged_no_update BEFORE UPDATE ON case_judged BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER case_judged_no_delete BEFORE DELETE ON case_judged BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER case_judged_at_end BEFORE INSERT ON case_judged WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM case_judged WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW treatment_recorded_now AS SELECT * FROM treatment_recorded WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER treatment_recorded_no_update BEFORE UPDATE ON treatment_recorded BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER treatment_recorded_no_delete BEFORE DELETE ON treatment_recorded BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER treatment_recorded_at_end BEFORE INSERT ON treatment_recorded WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM treatment_recorded WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE VIEW month_closed_now AS SELECT * FROM month_closed WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL);
CREATE TRIGGER month_closed_no_update BEFORE UPDATE ON month_closed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER month_closed_no_delete BEFORE DELETE ON month_closed BEGIN SELECT RAISE (ABORT, 'facts are not changed; record a correction'); END;
CREATE TRIGGER month_closed_at_end BEFORE INSERT ON month_closed WHEN NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS (SELECT 1 FROM month_closed WHERE entry = NEW.entry AND line = NEW.line) BEGIN SELECT RAISE (ABORT, 'entries and facts are added at the end; record an entry'); END;
CREATE INDEX bed_checked_by_bed ON bed_checked (bed, checked_on, entry);
CREATE INDEX stay_leaves_on ON stay (leaves_on);
CREATE INDEX stay_booking ON stay (booking);
