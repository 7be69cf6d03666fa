/**
 * Plain talk: a loop of common words that are said every day, against which a note is weighed. Talk fits it better than
 * the grammar, a note does not, although a note's words may be rare ones: the grammar knows their order.
 */
import type { Automaton } from "./automaton.js";

/** Common English words, written by hand. Their sounds matter, not the words: what is heard of them is never read. */
const COMMON = `
a about above across actually after afternoon again against ago agree ahead air all allow almost alone along already
also always am among an and angry animal another answer any anybody anyone anything anyway apple are area arm around
arrive as ask asleep at aunt away baby back bad bag ball bank bath be beach bear beautiful because become bed bedroom
been beer before began begin behind believe belong below beside best better between big bill bird birthday black blood
blue board boat body book boots born both bottle bottom bought bowl box boy bread break breakfast bridge bring broke
brother brought brown build building bus business busy but butter buy by cake call came can car card care carry cat
catch caught cause chair chance change cheap check cheese chicken child children choose church city class clean clear
climb clock close clothes cloud coat coffee cold come company computer cook cool corner cost could country couple
course cousin cover cross cry cup customer dad dance dangerous dark daughter day dead dear decide did die different
dinner dirty do doctor does dog done door down dream dress drink drive driver drop dry during each ear early earth
east easy eat egg either else empty end enjoy enough even evening ever every everybody everyone everything exactly
except excuse expect explain extra eye face fact fall family famous far farm fast father favourite feed feel feet fell
felt few field fight fill film find fine finger finish fire first fish fix floor flower fly follow food foot football
for forget found free fresh friday friend from front fruit full fun funny game garden gas gate gave get gift girl give
glad glass go god gold gone good got government grass great green grew ground group grow guess had hair half hall hand
happen happy hard has hat hate have he head health hear heard heart heavy held hello help her here hers high hill him
his history hit hold hole holiday home hope horse hospital hot hotel hour house how however hundred hungry hurry hurt
husband i ice idea if ill important in inside instead interesting into invite is island it its job join juice jump
just keep kept key kids kill kind king kitchen knee knew knock know lady lake land language large last late later
laugh law lay lead learn least leave left leg lesson let letter life light like line list listen little live long look
lose lost lot loud love low lucky lunch machine made make man many market married matter may maybe me meal mean meat
meet meeting member men met middle might mile milk mind minute miss moment monday money month moon more morning most
mother motor mountain mouth move movie much mum music must my myself name near nearly necessary neck need neighbour
never new news newspaper next nice night no nobody noise none noon north nose not note nothing now number o'clock of
off office often oh oil okay old on once one only open or orange order other our out outside over own page paid pain
paint paper parents park part party pass past pay peace people perhaps person phone photo pick picture piece place
plan plane plant plate play please pocket point police poor possible post potato pound present pretty price probably
problem promise public pull push put quarter question quick quickly quiet quite radio rain ran read ready real really
reason red remember rest restaurant return rich ride right river road rock room round rule run sad safe said salt same
sand sat saturday save saw say school sea seat second secret see seem seen sell send sent serve set several shall
shape she ship shirt shoe shop short should shoulder shout show shower shut sick side sign simple since sing sister
sit sky sleep slow slowly small smell smile smoke snow so soap some somebody someone something sometimes somewhere son
song soon sorry sound soup south speak special spend spoke sport spring stairs stand star start station stay still
stomach stone stood stop store storm story straight strange street strong student study stuff such sudden sugar suit
summer sun sunday supper suppose sure sweet swim table take talk tall taste taught tax tea teach teacher team tell
terrible test than thank that the their them then there these they thick thing think this those though thought through
throw thursday ticket tie till time tired to today together told tomorrow tonight too took tooth top touch town train
tree trip trouble truck true trust try tuesday turn ugly uncle under understand until up upon us use usual usually
vacation very village visit voice wait wake walk wall want war warm was wash watch water way we wear weather wednesday
week weekend weight welcome well went were west wet what wheel when where whether which while white who whole whose
why wide wife will win wind window winter wish with without woman women wonder wood word wore work world worry worse
worth would write wrong yard year yellow yes yesterday yet you young your yours
`;

/** Chance that the loop gives each word. Higher fits everything better; 0.02 to 0.2, fitted with `LEAST_LEAD`. */
const WORD_CHANCE = 0.1;
/** Chance that a word was the last. Common practice, no source; 0.05 to 0.3. */
const END_CHANCE = 0.1;

export const plainWords: ReadonlySet<string> = new Set(COMMON.trim().split(/\s+/));

/** Any row of `words`. Its chances do not add up to one: it is a yardstick, no grammar. */
export const talkLoop = (words: readonly string[]): Automaton => ({
  states: 1,
  start: 0,
  arcs: words.map((word) => ({ from: 0, to: 0, chance: WORD_CHANCE, word })),
  ends: [END_CHANCE],
});
