/**
 * The words of the format and the form of each statement, for recognising where one starts and for saying how one is
 * written. Source: the published description of the DBC file format (grammar of the sections, version 1.0.x).
 */

/** The format's own placeholder for "no node" in the place of a sender or receiver. */
export const NO_NODE = 'Vector__XXX';

/** Frame id of the pseudo message that collects signals which belong to no message. */
export const INDEPENDENT_SIGNALS_ID = 0xc0000000;

/** Statement keyword → how it is written; shown when a statement cannot be read. */
export const STATEMENT_FORMS: ReadonlyMap<string, string> = new Map([
  ['VERSION', 'VERSION "text"'],
  ['NS_', 'NS_ :'],
  ['BS_', 'BS_:'],
  ['BU_', 'BU_: Node Node'],
  ['VAL_TABLE_', 'VAL_TABLE_ Name 0 "text" 1 "text" ;'],
  ['BO_', 'BO_ id Name: length Sender'],
  ['SG_', 'SG_ Name : start|length@order sign (factor,offset) [min|max] "unit" Receiver,Receiver'],
  ['BO_TX_BU_', 'BO_TX_BU_ id : Node,Node;'],
  ['EV_', 'EV_ Name: type [min|max] "unit" initial id access Node;'],
  ['ENVVAR_DATA_', 'ENVVAR_DATA_ Name: size;'],
  [
    'CM_',
    'CM_ "text"; or CM_ BU_ Node "text"; or CM_ BO_ id "text"; or CM_ SG_ id Signal "text"; or CM_ EV_ Name "text";',
  ],
  ['BA_DEF_', 'BA_DEF_ BO_ "Name" INT 0 100; (or HEX, FLOAT, STRING, ENUM "a","b")'],
  ['BA_DEF_REL_', 'BA_DEF_REL_ BU_SG_REL_ "Name" INT 0 100;'],
  ['BA_DEF_DEF_', 'BA_DEF_DEF_ "Name" value;'],
  ['BA_DEF_DEF_REL_', 'BA_DEF_DEF_REL_ "Name" value;'],
  ['BA_', 'BA_ "Name" BO_ id value; (or BU_ Node, SG_ id Signal, EV_ Name, or nothing)'],
  ['BA_REL_', 'BA_REL_ "Name" BU_SG_REL_ Node SG_ id Signal value;'],
  ['VAL_', 'VAL_ id Signal 0 "text" 1 "text" ;'],
  ['SIG_GROUP_', 'SIG_GROUP_ id Name repetitions : Signal Signal;'],
  ['SIG_VALTYPE_', 'SIG_VALTYPE_ id Signal : 1;'],
  ['SG_MUL_VAL_', 'SG_MUL_VAL_ id Signal Multiplexer 0-3, 5-5;'],
]);

/** Statements of the format that this library keeps word for word and does not interpret. */
const UNMODELLED = [
  'NS_DESC_',
  'CAT_DEF_',
  'CAT_',
  'FILTER',
  'EV_DATA_',
  'SGTYPE_',
  'SGTYPE_VAL_',
  'BA_DEF_SGTYPE_',
  'BA_SGTYPE_',
  'SIG_TYPE_REF_',
  'SIGTYPE_VALTYPE_',
];

export const UNMODELLED_KEYWORDS: ReadonlySet<string> = new Set(UNMODELLED);

/** Every word that starts a statement. */
export const KEYWORDS: ReadonlySet<string> = new Set([...STATEMENT_FORMS.keys(), ...UNMODELLED]);

/** The symbols that a newly made file lists under NS_. */
export const NEW_SYMBOLS: readonly string[] = [
  'NS_DESC_',
  'CM_',
  'BA_DEF_',
  'BA_',
  'VAL_',
  'CAT_DEF_',
  'CAT_',
  'FILTER',
  'BA_DEF_DEF_',
  'EV_DATA_',
  'ENVVAR_DATA_',
  'SGTYPE_',
  'SGTYPE_VAL_',
  'BA_DEF_SGTYPE_',
  'BA_SGTYPE_',
  'SIG_TYPE_REF_',
  'VAL_TABLE_',
  'SIG_GROUP_',
  'SIG_VALTYPE_',
  'SIGTYPE_VALTYPE_',
  'BO_TX_BU_',
  'BA_DEF_REL_',
  'BA_REL_',
  'BA_DEF_DEF_REL_',
  'BU_SG_REL_',
  'BU_EV_REL_',
  'BU_BO_REL_',
  'SG_MUL_VAL_',
];
