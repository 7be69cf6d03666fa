/** Rules for figures as they are said, made of the number words that reading knows. */
import { vocabulary } from "../language/index.js";

const { ONES, TEENS, TENS, ZEROS, PARTS } = vocabulary;
const SPELLINGS = new Set(["fourty", "o", "eigths", "eights", "sixteens", "halves"]);
const words = (table: Readonly<Record<string, number>>): string[] =>
  Object.keys(table).filter((word) => !SPELLINGS.has(word));
const any = (list: readonly string[]): string => list.join(" | ");

const parts = (under: number): string => {
  const names = words(PARTS).filter((name) => PARTS[name] === under);
  const many = names.filter((name) => name.endsWith("s"));
  const one = names.filter((name) => !name.endsWith("s"));
  const odd = words({ ...ONES, ...TEENS }).filter((word) => {
    const value = ONES[word] ?? TEENS[word] ?? 0;
    return value % 2 === 1 && value > 1 && value < under;
  });
  if (under === 2 || under === 4 || odd.length === 0) return "";
  const single = `(a | an | one) (${any(one)})`;
  return `/${8 / under}/ (${single} | (${any(odd)}) (${any(many)}))`;
};

/**
 * `<n99>` 1 to 99; `<whole>` also hundreds and spoken hundreds (`nine fifty`, `one oh five`); `<dec>` with `point`;
 * `<part>` fractions; `<mix>` a whole and a fraction; `<tempn>` a temperature's figure.
 */
export function numberRules(): string {
  const zeros = ZEROS.split(", ").filter((word) => !SPELLINGS.has(word));
  return `
<one> = ${any(words(ONES))} ;
<teen> = ${any(words(TEENS))} ;
<tens> = ${any(words(TENS))} ;
<zero> = /4/ ${zeros[0]} | /4/ oh | ${any(zeros.slice(2))} ;
<n2> = /10/ <teen> | /8/ <tens> | /64/ <tens> <one> ;
<n99> = /12/ <one> | /60/ <n2> ;
<hundred> = /3/ <one> hundred | /1/ a hundred ;
<h> = /3/ <hundred> | /8/ <hundred> [and] <n99> | /12/ <one> <n2> | /1/ <one> oh <one> ;
<k> = /2/ (one | a) thousand | /3/ (one | a) thousand [and] <n99> | /1/ (one | a) thousand <one> hundred [[and] <n99>] | /1/ <teen> hundred [[and] <n99>] | /3/ <teen> <n2> ;
<whole> = /12/ <n99> | /8/ <h> | /1/ <k> ;
<digit> = /9/ <one> | /1/ <zero> ;
<dec> = /8/ <n99> point <digit> | /1/ <n99> point <digit> <digit> | /2/ <h> point <digit> | /2/ [<zero>] point <digit> | /1/ [<zero>] point <digit> <digit> ;
<part> = /4/ half | /4/ a half | /3/ (a | one) quarter | /3/ three quarters | ${[8, 16, 32].map(parts).filter(Boolean).join(" | ")} ;
<mix> = <n99> and <part> ;
<tempn> = /6/ <one> hundred [[and] <n99>] | /6/ <one> <n2> | /1/ <one> oh <one> | /3/ (one | a) thousand [[and] <n99>] | /3/ (ten | eleven | twelve | thirteen | fourteen | fifteen) (<n2> | hundred [[and] <n99>]) ;
<digits> = <digit> <digit> <digit> | <digit> <digit> ;
`;
}
