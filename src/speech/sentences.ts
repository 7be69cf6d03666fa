/**
 * What can be said: the order of words in a note. `{op}` is every phrase of the group `op:` of reading's vocabulary,
 * `{noun:massG}` every phrase of that meaning; `#heat` is a figure of that kind (figure-kinds.ts), put in for each
 * note by what the shop makes likely. `/4/` weighs a choice, common practice, no source. `%answer` is
 * the line of answers to a question (grammar-text.ts).
 */
export const SENTENCES = `
<lengthunit> = /9/ {unit:mm} | /3/ {unit:inch} | /1/ {unit:cm} | /1/ {unit:thou} ;
<massunit> = /9/ {unit:g} | /1/ {unit:kg} | /1/ {unit:oz} | /1/ {unit:lb} ;
<degrees> = degrees | {unit:c} | degrees {unit:c} | degrees {unit:f} | {unit:f} ;
<temp> = #temp [<degrees>] ;
<time> = /5/ #minutes {unit:min} | (an hour | one hour | half an hour | an hour and a half | two hours) ;
<colour> = /2/ {hue} | {shade} {hue} ;
<thick> = #thick [<lengthunit>] {adj:thicknessMm} ;
<wide> = #wide [<lengthunit>] {adj:widthMm} ;
<long> = #long [<lengthunit>] {adj:lengthMm} ;
<sizes> = /3/ <thick> | /3/ <wide> | /5/ <long> | /3/ <thick> [and] <wide> | /1/ <wide> [and] <thick> | /1/ <wide> [and] <long> | /2/ <thick> <wide> [and] <long> | /1/ <wide> <thick> [and] <long> | /1/ <long> <wide> [and] <thick> ;
<nthick> = {noun:thicknessMm} [is] #thick ;
<nwide> = {noun:widthMm} [is] #wide ;
<nlong> = {noun:lengthMm} [is] #long ;
<named> = /2/ (<nthick> | <nwide> | <nlong>) | /2/ <nthick> <nwide> <nlong> | /2/ <nlong> <nwide> <nthick> | <nthick> <nwide> ;
<three> = #thick by #wide by #long [<lengthunit>] ;
<two> = #thick by #wide [<lengthunit>] ;
<box> = /9/ <three> | /5/ <two> | /4/ <sizes> | /2/ <named> | /1/ #wide {adj:square} ;
<to> = to | down to | out to ;
<where> = (on | at | near | in | off | along | from) the {place} ;
<work> = /4/ {op} | /6/ {op} [it] [<to>] <box> | /1/ {op} [it] <to> #long [<lengthunit>] | /2/ {op} the {place} [<to> <two>] ;
<heatno> = /8/ heat [number] #heat | /1/ the {ordinal} heat | /2/ {say:next heat} ;
<glow> = /6/ [at] <temp> | /1/ [at] <colour> ;
<heat> = <heatno> ( /2/ <glow> | /6/ [<glow>] <work> | /4/ [<glow>] <box> | /1/ [<glow>] [for] <time> | /1/ [<glow>] <crack> | /1/ [<glow>] {notable} ) | /0.3/ <heatno> ;
<size> = [now | it is | it is now | bar is | bar is now | size | size is] <box> [at <temp>] ;
<worked> = <work> [at <temp>] ;
<found> = a | found a | there is a | got a | another | new ;
<crackword> = /6/ crack | {kind:crack} ;
<deep> = #depth [<lengthunit>] {adj:depthMm} ;
<along> = #cracklong [<lengthunit>] {adj:lengthMm} ;
<measure> = /3/ <deep> | /2/ <along> | /3/ <deep> [and] <along> ;
<crack> = [<found>] [{severity}] <crackword> ( <where> [<measure>] | <measure> [<where>] ) ;
<lost> = #lost <massunit> ;
<removal> = /4/ {removal} [off] <lost> [<where>] | /2/ {removal} [out] the (crack | {place}) [out | off] | /2/ {removal} [out] the (crack | {place}) [out | off] ([took] <lost> | <deep>) | /2/ {removal} [off] #lost [<lengthunit>] [<where>] | /2/ (lost | took off | removed) <lost> [{removal}] [<where>] ;
<weigh> = /4/ [it | now] {noun:massG} [is] #mass <massunit> [now] | /2/ #mass <massunit> [now | left] ;
<soak> = {noun:duration} [for] <time> [[at] <temp>] ;
<ingotword> = /5/ ingot | {kind:ingot} | {ingotshape} ;
<across> = #across [<lengthunit>] ({adj:diameterMm} | {noun:diameterMm} | wide) ;
<high> = #high [<lengthunit>] {adj:heightMm} ;
<round> = /4/ <across> [by] <high> | /4/ #across by #high [<lengthunit>] | /1/ <across> ;
<newmass> = [weighs] #newmass <massunit> ;
<carbonfig> = #carbon ({unit:percent} [carbon] | carbon) ;
<about> = /2/ <round> | /2/ <newmass> | /4/ <round> <newmass> | /2/ <newmass> <round> | /2/ <newmass> <carbonfig> | /1/ <round> <newmass> <carbonfig> ;
<new> = /4/ [a | the] [new | next] [{ingotshape}] <ingotword> [[number] #name] <about> | /0.5/ new ingot [[number] #name] ;
<part> = /3/ #lost <massunit> [of] {what} | {what} #lost <massunit> ;
<melt> = /3/ melt [number #name] | {kind:melt} ;
<charge> = <melt> ( /3/ #newmass <massunit> [charge] [#peak [<degrees>]] [<time>] | /2/ [#newmass <massunit>] <part> [<part>] | #peak [<degrees>] [<time>] ) ;
<blade> = /3/ #bladelong by #bladewide by #bladethick | #bladelong [<lengthunit>] {adj:lengthMm} [#bladewide [<lengthunit>] {adj:widthMm}] [#bladethick [<lengthunit>] {adj:thicknessMm}] ;
<goal> = [{kind:goal}] [a] [single edge | double edge] [blade] <blade> [tang #bladelong] ;
<finish> = {kind:finish} [blade] (<blade> | #mass <massunit>) ;
<question> = /6/ {about} | {topic:log} ;
<setting> = {kind:unitsmm} | {kind:unitsinch} | {kind:tempc} | {kind:tempf} | {kind:spokenyes} | {kind:spokenno} ;
<switch> = {say:switch} ingot [number] #name ;
<fix> = (no | sorry | make that | i meant | correction) (#long [<lengthunit>] | #temp | #wide [not #wide]) ;
%answer
<filler> = um | er | uh | okay | right | so | well ;
<core> = /10/ <heat> | /9/ <size> | /5/ <worked> | /5/ <crack> | /4/ <removal> | /4/ <weigh> | /2/ <soak> | /5/ <new> | /2/ <charge> | /2/ <goal> | /1/ <finish> | /3/ <question> | /1/ <setting> | /2/ {say:undo} | /1/ <switch> | /1/ {say:again} | /1/ <fix> | /1/ {gone:crack} | /1/ {notable} | /1/ <answer> ;
<note> = /9/ <core> | /1/ <filler> <core> ;
public <top> = <note> ;
`;
