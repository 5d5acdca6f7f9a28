import type { CodingRole } from "./roles.js";

/** How the cells of a role are read as one of a few meanings. */
export interface Coding {
  /** Meanings in the order of their codes, as the settings name them. */
  readonly meanings: readonly { readonly name: string; readonly code: number }[];
  /** Words with one meaning whatever stands beside them, by meaning; those of the empty meaning are missing. */
  readonly words: Readonly<Record<string, readonly string[]>>;
  /**
   * Letters and numbers that mean something only as a set: 'm' is male beside 'f' and female beside 'h'. A column is read by a set
   * when that set alone explains it; where two sets explain it differently, the user is asked. An empty meaning is missing.
   */
  readonly sets: readonly Readonly<Record<string, string>>[];
}

// ISO/IEC 5218: 1 male, 2 female, 0 not known, 9 not applicable. From memory of the standard.
export const sexNumbers = { "1": "male", "2": "female", "0": "", "9": "" } as const;

const sex: Coding = {
  meanings: [
    { name: "male", code: 1 },
    { name: "female", code: 2 },
  ],
  words: {
    male: "male males boy boys man masculin masculino masculine garcon garcons homme hombre nino varon macho homem menino rapaz ذكر ولد".split(
      " ",
    ),
    female:
      "female females girl girls woman feminin feminino femenino feminine fille filles femme mujer nina hembra mulher menina rapariga انثي بنت".split(
        " ",
      ),
  },
  sets: [
    { m: "male", f: "female" },
    { h: "male", m: "female" },
    { h: "male", f: "female" },
    { v: "male", m: "female" },
    { b: "male", g: "female" },
    { g: "male", f: "female" },
    sexNumbers,
    // 0 and 1 are used both ways round.
    { "0": "female", "1": "male" },
  ],
};

const position: Coding = {
  meanings: [
    { name: "lying", code: 1 },
    { name: "standing", code: 2 },
  ],
  words: {
    lying:
      "lying lying_down laying recumbent supine length couche couchee allonge allongee longueur acostado acostada longitud deitado deitada comprimento مستلقي مستلق ممدد".split(
        " ",
      ),
    standing:
      "standing stand standing_up upright height debout hauteur taille de_pie parado parada estatura talla altura em_pe de_pe واقف وقوف".split(
        " ",
      ),
  },
  sets: [
    { l: "lying", h: "standing" },
    { l: "lying", s: "standing" },
    { r: "lying", s: "standing" },
    { c: "lying", d: "standing" },
    { a: "lying", p: "standing" },
    { d: "lying", p: "standing" },
    { "1": "lying", "2": "standing" },
    { "1": "standing", "2": "lying" },
  ],
};

const oedema: Coding = {
  meanings: [
    { name: "absent", code: 0 },
    { name: "present", code: 1 },
  ],
  words: {
    present: "yes oui si sim true present presente presents نعم + ++ +++".split(" "),
    absent: "no non nao false absent absente ausente none aucun nil لا".split(" "),
  },
  sets: [
    { y: "present", n: "absent" },
    { o: "present", n: "absent" },
    { s: "present", n: "absent" },
    { p: "present", a: "absent" },
    { "1": "present", "0": "absent" },
    { "1": "present", "2": "absent" },
    { "1": "absent", "2": "present" },
  ],
};

const ageKnownHow: Coding = {
  meanings: [
    { name: "documented", code: 0 },
    { name: "recalled", code: 1 },
  ],
  words: {
    documented:
      "documented document documentation card health_card vaccination_card birth_certificate certificate register carte carnet carnet_de_sante carte_de_vaccination acte_de_naissance registre documente tarjeta acta partida_de_nacimiento documento documentado cartao certidao وثيقه شهاده بطاقه".split(
        " ",
      ),
    "": ["unknown", "not_known", "dont_know", "inconnu", "desconocido", "desconhecido"],
    recalled:
      "recalled recall mother caregiver calendar event_calendar local_calendar events_calendar calendar_of_events estimate estimated estimation calendrier calendrier_local estime memoire recuerdo calendario estimado estimada memoria تقدير".split(
        " ",
      ),
  },
  sets: [],
};

export const codings: Readonly<Record<CodingRole, Coding>> = {
  sex,
  position,
  oedema,
  "age-known-how": ageKnownHow,
};
