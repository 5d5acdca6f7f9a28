import type { Role } from "../settings/roles.js";

/**
 * Usual column names by role, in English, French, Spanish, Portuguese and Arabic; written without accents, the small
 * words of each language ('of', 'de', 'del' ...) and the word 'child' left out, since names are compared without them.
 */
export const roleNames: Readonly<Record<Role, readonly string[]>> = {
  cluster: [
    "cluster, cluster number, cluster no, cluster num, cluster id, cluster code, psu, primary sampling unit, enumeration area",
    "grappe, numero grappe, no grappe, num grappe, code grappe, zone denombrement",
    "conglomerado, numero conglomerado, unidad primaria, unidade primaria, upm, العنقود, عنقود, رقم العنقود",
  ],
  stratum: ["stratum, strata, stratum code, strate, code strate, estrato, codigo estrato, الطبقه, طبقه"],
  "sampling-weight": [
    "sampling weight, sample weight, survey weight, design weight, weight sampling, expansion factor",
    "poids sondage, poids echantillonnage, ponderation, coefficient ponderation",
    "peso muestral, factor expansion, ponderacion, peso amostral, fator expansao, ponderacao, وزن العينه",
  ],
  area: [
    "area, district, region, province, governorate, departement, department, residence, area type, type area",
    "milieu, milieu residence, distrito, provincia, municipio, المنطقه, المحافظه",
  ],
  household: [
    "household, household id, household no, household number, household code, hh, hh id, hhid, hh no, hh number, house no",
    "familia, numero familia, no familia, famille, numero famille, الاسره المعيشيه, menage, numero menage, no menage, id menage, hogar, numero hogar, id hogar, agregado, agregado familiar, domicilio",
    "الاسره, رقم الاسره",
  ],
  child: [
    "child, child id, child no, child number, child code, line no, line number, enfant, id enfant, numero enfant, no enfant",
    "nino, id nino, numero nino, crianca, id crianca, numero crianca, رقم الطفل",
  ],
  team: [
    "team, team no, team number, team id, team code, equipe, numero equipe, no equipe, code equipe",
    "equipo, numero equipo, equipa, brigada, numero brigada, الفريق, فريق, رقم الفريق",
  ],
  "interview-date": [
    "interview date, date interview, survey date, date survey, visit date, date visit, measurement date, date measurement",
    "date measured, date enquete, date visite, date mesure, date collecte, fecha entrevista, fecha encuesta, fecha visita, fecha medicion",
    "f entrevista, f encuesta, f visita, f medicion",
    "day interview, dia entrevista, dia visita, jour enquete, date passage, تاريخ القياس, تاريخ جمع البيانات",
    "data entrevista, data visita, data inquerito, data medicao, تاريخ المقابله, تاريخ المسح, تاريخ الزياره",
  ],
  "entry-time": [
    "entry time, start time, time start, interview start, start interview, heure debut, debut entretien, date heure debut",
    "hora inicio, inicio entrevista, fecha hora inicio, data hora inicio, وقت البدايه, وقت البدء",
    "time entry, interview time, time interview, form time, entry date time, heure saisie, date heure saisie, heure entretien, heure enquete",
    "hora registro, hora entrevista, hora encuesta, fecha hora registro, hora registo, data hora registo, وقت الادخال, وقت المقابله",
    "date et heure saisie, date et heure entretien, date et heure debut, fecha y hora registro, fecha y hora entrevista, fecha y hora inicio",
    "data e hora registo, data e hora entrevista, data e hora inicio, التاريخ والوقت",
  ],
  sex: ["sex, gender, sexe, genre, sexo, genero, sex code, الجنس, جنس, النوع, جنس الطفل"],
  "birth-date": [
    "birth date, date birth, birthdate, birth day, birthday, dob, date naissance, date naiss, d naissance, ddn, fecha nacimiento, fecha nac, f nacimiento, f nac",
    "data nascimento, data nasc, تاريخ الميلاد, تاريخ الولاده",
  ],
  "age-months": [
    "age months, months, mois, meses, age month, age mos, months age, age mois, mois age, edad meses, idade meses, العمر بالاشهر, العمر بالشهور",
  ],
  "age-known-how": [
    "age known how, age known by, how age known, age source, source age, age basis, birth date source, date birth source, dob source",
    "age document, document age, age proof, preuve age, justificatif age, documento edad, prueba edad, documento idade, وثيقه العمر",
    "source date naissance, fuente edad, origem idade, مصدر العمر",
  ],
  weight: [
    "weight, body weight, measured weight, weight measured, wt, wgt, poids, poids mesure, peso, peso medido, peso corporal",
    "الوزن, وزن, وزن الطفل, وزن الجسم",
  ],
  height: [
    "height, length, ht, hgt, length height, height length, length or height, height or length, stature, taille, longueur",
    "taille longueur, taille ou longueur, talla, estatura, longitud, talla longitud, talla o longitud, altura, comprimento",
    "measured height, height measured, taille mesuree, talla medida, altura medida, estatura medida",
    "altura comprimento, الطول, طول, القامه, طول الطفل",
  ],
  position: [
    "position, measuring position, measurement position, measured position, position measured, measured how, lying standing",
    "lying or standing, standing lying, standing or lying, length or height, position mesure, couche debout, couche ou debout",
    "how measured, mode mesure, modo medicion, forma medicion, forma medida, طريقه القياس",
    "posicion, posicion medicion, acostado o parado, posicao, posicao medicao, deitado ou em pe, وضعيه القياس, الوضعيه",
  ],
  "arm-circumference": [
    "arm circumference, muac, mid upper arm circumference, upper arm circumference, arm, perimetre brachial, pb",
    "upper arm, circonference bras, circunferencia braquial, circunferencia brazo, circunferencia braco",
    "perimetre bras, perimetro braquial, perimetro brazo, perimetro braco, محيط الذراع, محيط منتصف اعلي الذراع, محيط العضد",
  ],
  "head-circumference": [
    "head circumference, head, circonference tete, circunferencia cefalica, circunferencia cabeza, perimetre cranien, perimetre tete, perimetro cefalico, perimetro craneal, محيط الراس",
  ],
  oedema: [
    "oedema, edema, bilateral oedema, bilateral edema, bilateral pitting oedema, bilateral pitting edema, oedemes, oedeme",
    "bilateral swelling, gonflement bilateral, hinchazon bilateral, inchaco bilateral, تورم القدمين, وذمه القدمين",
    "oedemes bilateraux, edemas, edema bilateral, وذمه, الوذمه, swelling both feet",
  ],
  clothing: ["clothing, clothes, clothed, dressed, undressed, vetements, habille, ropa, vestido, roupa, الملابس"],
};

/** Names that fit a role only where no better one is there: their meaning or unit is left open, or a form writes them by itself. */
export const weakNames: Partial<Record<Role, readonly string[]>> = {
  "interview-date": ["date, fecha, data, التاريخ, today"],
  "age-months": [
    "age, edad, idade, العمر",
    "age days, days age, age jours, edad dias, idade dias, العمر بالايام",
    "age years, age yrs, age ans, age annees, edad anos, idade anos, العمر بالسنوات",
  ],
};

/** Words in a name that say that an age is in years. */
export const yearWords: ReadonlySet<string> = new Set("years year yrs yr ans annees anos بالسنوات".split(" "));

/** Words in a name that say that an age is in days, or in months. */
export const dayWords: ReadonlySet<string> = new Set("days day jours dias بالايام".split(" "));
export const monthWords: ReadonlySet<string> = new Set("months month mos mois meses mes بالاشهر بالشهور".split(" "));

/** Words for 'number' in a name, all compared as one. */
export const numberWords: ReadonlySet<string> = new Set("no n nr nro num numero number".split(" "));

/** Columns that data-collection forms write by themselves, as their last segment in lower case; none is ever a role of its own. */
export const formColumns: ReadonlySet<string> = new Set(
  `start end deviceid device_id subscriberid simid simserial phonenumber devicephonenum username audit instanceid instancename
   key parent_key _id _uuid _index _parent_index _parent_table_name _submission_time _validation_status _notes _status
   _submitted_by _tags _attachments __version__ _version_ submissiondate submittername submitterid reviewstate formdef_version
   attachmentspresent attachmentsexpected edits rootuuid meta uuid _parent_uuid _parent_id _submission__id _submission__uuid
   _submission__submission_time _submission__validation_status _submission__notes _submission__status _submission__submitted_by
   _submission__tags _submission____version__`.split(/\s+/),
);

/**
 * Columns of a form from which the moment of an interview can be had, the best first: when the form was opened, when it was
 * closed, when it was sent.
 */
export const formTimes: readonly (readonly string[])[] = [["start"], ["end"], ["_submission_time", "submissiondate"]];

/** Words that say that a column is about somebody else than the child. */
export const otherPersons: ReadonlySet<string> = new Set(
  `mother father parent caregiver carer caretaker guardian respondent interviewer enumerator measurer supervisor leader head
   mere pere tuteur repondant enqueteur chef madre padre cuidador encuestado encuestador jefe mae pai responsavel
   entrevistado entrevistador chefe الام الاب`.split(/\s+/),
);

/** Words in a name that say that children were measured lying, and standing. */
export const lengthWords: ReadonlySet<string> = new Set("length longueur longitud comprimento طول الطول".split(" "));
export const heightWords: ReadonlySet<string> = new Set(
  "height ht hgt stature taille talla estatura altura القامه قامه ارتفاع".split(" "),
);

/** Words in a name that may speak of a sampling weight, and of nothing about the child where they are the same throughout a cluster. */
export const weightingWords: ReadonlySet<string> = new Set(
  "w wt wgt weight weights weighting poids ponderation coefficient peso pesos ponderacion ponderacao factor fator وزن الوزن".split(
    " ",
  ),
);

/** Words in a name that say that a column holds places as small as the clusters of a survey. */
export const smallPlaceWords: ReadonlySet<string> = new Set(
  "village villages site camp block hamlet settlement locality localite hameau quartier aldea comunidad caserio aldeia comunidade bairro قريه القريه مخيم".split(
    " ",
  ),
);

/** Small words, and words for the child, that names are compared without. */
export const passedOver: ReadonlySet<string> = new Set(
  "of the in s de du des d l la le les del el da do das en em child childs children enfant enfants nino nina ninos crianca criancas baby bebe".split(
    " ",
  ),
);

/** Units that may stand behind a name. */
export const unitWords: ReadonlySet<string> = new Set(
  (
    "kg kgs kilogram kilograms kilogramme kilogrammes kilogramos quilogramas g gr gram grams gramme grammes gramos gramas " +
    "cm cms centimetre centimetres centimeters centimetros mm millimetre millimetres millimeters milimetros " +
    "m metre metres meters metros كغ كجم غرام جرام سم ملم مم متر"
  ).split(" "),
);
