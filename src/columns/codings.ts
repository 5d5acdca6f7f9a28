import type { CodingRole } from "../settings/roles.js";

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

/** Words for 'not known', in any column. */
const notKnownWords: readonly string[] =
  "unknown not_known dont_know don_t_know inconnu ne_sait_pas desconocido no_sabe desconhecido nao_sabe غير_معروف لا_يعرف لا_اعرف".split(
    " ",
  );

const sex: Coding = {
  meanings: [
    { name: "male", code: 1 },
    { name: "female", code: 2 },
  ],
  words: {
    "": notKnownWords,
    male: "male males boy boys man masculin masculino masculine garcon garcons homme hombre nino varon macho homem menino rapaz ذكر ولد".split(
      " ",
    ),
    female:
      "female females girl girls woman feminin feminino femenino femenina feminina feminine fille filles femme mujer nina hembra mulher menina rapariga انثي بنت".split(
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
    "": notKnownWords,
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

/** Words for yes and no. */
export const yesWords: readonly string[] = "yes oui si sim true نعم".split(" ");
export const noWords: readonly string[] = "no non nao false لا".split(" ");

const oedema: Coding = {
  meanings: [
    { name: "absent", code: 0 },
    { name: "present", code: 1 },
  ],
  words: {
    "": notKnownWords,
    present: [...yesWords, ..."present presente presents + ++ +++".split(" ")],
    absent: [...noWords, ..."absent absente ausente none aucun nil".split(" ")],
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
    documented: [
      "documented document documentation card health_card vaccination_card immunisation_card immunization_card",
      "birth_certificate certificate register birth_register civil_register",
      "documente carte carte_de_sante carte_de_vaccination carnet carnet_de_sante carnet_de_vaccination acte acte_de_naissance",
      "extrait_de_naissance certificat_de_naissance registre etat_civil",
      "documento documentado tarjeta tarjeta_de_salud tarjeta_de_vacunacion carne carne_de_vacunacion cartilla",
      "cartilla_de_vacunacion acta acta_de_nacimiento partida_de_nacimiento certificado certificado_de_nacimiento registro registro_civil",
      "cartao cartao_de_saude cartao_de_vacina cartao_de_vacinacao boletim_de_vacinas certidao certidao_de_nascimento cedula",
      "وثيقه شهاده شهاده_ميلاد شهاده_الميلاد بطاقه بطاقه_صحيه بطاقه_التطعيم بطاقه_التحصين سجل",
    ].flatMap((line) => line.split(" ")),
    "": notKnownWords,
    recalled: [
      "recalled recall mother mothers_recall mother_s_recall caregiver caregiver_recall calendar event_calendar local_calendar",
      "events_calendar local_events_calendar calendar_of_events estimate estimated estimation",
      "calendrier calendrier_local calendrier_des_evenements calendrier_des_evenements_locaux estime memoire mere souvenir declaration",
      "recuerdo calendario calendario_de_eventos calendario_local estimado estimada estimacion madre memoria declaracion",
      "estimativa lembranca mae تقدير تقويم تقويم_الاحداث تذكر الام",
    ].flatMap((line) => line.split(" ")),
  },
  sets: [],
};

export const codings: Readonly<Record<CodingRole, Coding>> = {
  sex,
  position,
  oedema,
  "age-known-how": ageKnownHow,
};
