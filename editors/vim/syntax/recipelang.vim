" Made by `python -m editors.generate` from the notation's grammar; changes here are lost.
if exists('b:current_syntax')
  finish
endif
let b:current_syntax = 'recipelang'
syntax case ignore
syntax sync fromstart

syntax match recipelangComment "\v%(^|\s@1<=)//.*$" contains=recipelangAllow,@Spell
syntax match recipelangAllow "\v%(//\s*)@<=allow\s+[a-z-]+" contained
syntax match recipelangStray "\v^%(//)@!\S.*$"
" of two matches in one place the later wins: names, values, what stands in blocks, first words
syntax match recipelangIngredient "\v[[:alpha:]]%(%(\s+\/\/)@![^,;()\[\]{}=|])*" contained
syntax match recipelangServedName "\v[[:alpha:]]%(%(\s+for\s+%(grades?>|pre-?k>|k>|preschool>|infants?>|adults?>|ages?>|\d))@!%(%(\s+\/\/)@![^,;()\[\]{}=|]))*" contained
syntax match recipelangNumber "\v%([[:alnum:]_-])@1<!\$?%(\d+\/\d+|\d+%(,\d{3})*%(\.\d+)?%(%(\s+|-)\d+\/\d+|\s*[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])?|\.\d+|[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])" contained
syntax match recipelangNumber "\v%(#\s*|<no\.?\s*)\d+%(\s+%(scoop|can))@=" contained
syntax match recipelangDate "\v<\d{4}-\d{2}-\d{2}>" contained
syntax match recipelangUnit "\v%([0-9½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒]\s*)@<=%(portion\s+spoons|portion\s+spoon|fluid\s+ounces|fluid\s+ounce|milliliters|tablespoons|micrograms|milligrams|milliliter|tablespoon|kilograms|microgram|milligram|teaspoons|kilogram|portions|teaspoon|batches|bottles|gallons|minutes|portion|seconds|bottle|gallon|inches|ladles|liters|loaves|minute|ounces|pieces|pounds|quarts|scoops|second|sheets|slices|batch|boxes|cases|dozen|fl\s+oz|grams|hours|ladle|liter|ounce|oz\s+eq|piece|pints|pound|quart|scoop|sheet|slice|tbsps|bags|cans|case|cups|days|each|gals|gram|hour|inch|jars|loaf|mins|pint|secs|tbsp|tsps|tubs|bag|box|can|cup|day|doz|gal|grm|hrs|jar|kgs|lbs|mcg|min|pts|qts|sec|tsp|tub|ea|hr|kg|lb|mg|ml|oz|pt|qt|ug|µg|μg|c|d|g|h|l|s)>" contained
syntax match recipelangUnit "\v%([0-9½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒]\s*)@<=%(\%|%([°º]|deg%(rees)?\s*)?[FC]>)" contained
syntax match recipelangString /"[^"]*"/ contained
syntax match recipelangInside "\v[[:blank:],;]@1<=%(under\s+the\s+refrigeration|under\s+the\s+refrigerator|in\s+cold\s+running\s+water|in\s+the\s+refrigeration|at\s+room\s+temperature|in\s+the\s+refrigerator|under\s+refrigeration|under\s+refrigerator|in\s+refrigeration|in\s+the\s+microwave|none\s+of\s+the\s+nine|under\s+the\s+cooler|in\s+refrigerator|with\s+its\s+liquid|in\s+the\s+cooler|stand\s+covered|while\s+cooking|with\s+at\s+least|as\s+purchased|not\s+credited|under\s+cooler|credited\s+as|on\s+the\s+side|per\s+portion|reduced-fat|instead\s+of|unflavored|as\s+served|by\s+weight|counts\s+as|in\s+cooler|left\s+over|or\s+higher|untreated|enriched|fat-free|flavored|leftover|optional|or\s+above|or\s+below|or\s+lower|portions|to\s+order|discard|drained|low-fat|nothing|or\s+less|or\s+more|portion|then\s+to|called|cooked|frozen|in\s+all|nonfat|within|group|items|up\s+to|whole|cold|item|make|more|once|skim|and|for|hot|per|raw|as|at|in|of|to)%([[:blank:],;]|$)@=" contained
syntax cluster recipelangAmount contains=recipelangNumber,recipelangDate,recipelangUnit
syntax cluster recipelangValue contains=@recipelangAmount,recipelangString,recipelangInside

syntax match recipelangName "\v%(^%(food|container|recipe|variation|menu|calendar)\s+)@<=\S.{-}\ze%(\s+//.*|\s*)$" contained
syntax match recipelangControlPoint "\v<ccp>" contained
syntax region recipelangStep matchgroup=recipelangDash start="\v^\s+%(%(instead\s+of|after)\s+step\s+\d+\s+)?-\s@=" end="$" oneline contained contains=recipelangReference,recipelangComment,@Spell
syntax region recipelangReference matchgroup=recipelangBracket start="\[" end="\]" oneline contained contains=@recipelangAmount,recipelangShare
syntax match recipelangShare "\v(\[\s*)@<=%(the\s+)?rest\s+of>|<per\s+portion\ze\s*\]" contained
syntax region recipelangIngredientLine start="\v^\s+%(or\s+)?%(\$?%(\d+\/\d+|\d+%(,\d{3})*%(\.\d+)?%(%(\s+|-)\d+\/\d+|\s*[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])?|\.\d+|[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])|%(#\s*|no\.?\s*)\d+|to\s+taste)@=" end="$" oneline contained contains=@recipelangAmount,recipelangIngredient,recipelangNotes,recipelangComment,recipelangTaste
syntax match recipelangIngredient "\v\s@1<=%(\d+%(\.\d+)?\%|\d+%(\.\d+)?-[[:alpha:]]@=|[5-9]\d\/\d{1,2}\d@!)%(%(\s+\/\/)@![^,;()\[\]{}=|])*" contained
syntax match recipelangServedName "\v\s@1<=%(\d+%(\.\d+)?\%|\d+%(\.\d+)?-[[:alpha:]]@=|[5-9]\d\/\d{1,2}\d@!)%(%(\s+\/\/)@![^,;()\[\]{}=|])*" contained
syntax match recipelangTaste "\v%(^\s+)@<=or>|<to\s+taste>|<by\s+weight>" contained
syntax region recipelangNotes start="," end="$" oneline contained contains=recipelangNoteWord,recipelangComment,recipelangPercent
syntax match recipelangNoteWord "\v%(,\s*)@<=%(not\s+credited|credited\s+as|on\s+the\s+side|counts\s+as|left\s+over|leftover|optional|to\s+order|discard|called)%([[:blank:],]|$)@=" contained
syntax match recipelangPercent "\v\$?%(\d+\/\d+|\d+%(,\d{3})*%(\.\d+)?%(%(\s+|-)\d+\/\d+|\s*[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])?|\.\d+|[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒])\s*\%" contained contains=recipelangUnit
syntax region recipelangServed matchgroup=recipelangMenuField start="\v^\s+%(serve|sell)%([[:blank:],;]|$)@=" end="$" oneline contained contains=@recipelangAmount,recipelangServedName,recipelangServedBehind,recipelangComment
syntax region recipelangServedBehind start="\v,|<%(for\s+%(grades?>|pre-?k>|k>|preschool>|infants?>|adults?>|ages?>|\d))@=" end="\v;|$" oneline contained contains=@recipelangValue,recipelangComment
syntax match recipelangNutrient "\v^\s+\zs[[:alpha:]][[:alpha:] (),/\'-]*\ze\s+[0-9½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒<.]" contained

syntax region recipelangFood matchgroup=recipelangKind start="\v^food%([[:blank:],]|$)@=" end="\v^%(//)@!\S@=" keepend contains=recipelangName,recipelangComment,@recipelangValue,recipelangFoodField,recipelangNutrient,recipelangFoodBlock
syntax match recipelangFoodField "\v^\s+\zs%(grain-based\s+dessert|as\s+in\s+the\s+pantry|breakfast\s+cereal|creditable\s+grain|whole\s+grain-rich|water\s+activity|no\s+date\s+mark|also\s+called|each\s+weighs|grain\s+group|may\s+contain|other\s+grain|label\s+read|usda\s+foods|left\s+from|packed\s+in|caffeine|contains|domestic|evidence|imported|arrives|credits|not\s+tcs|sold\s+as|liquid|weighs|yogurt|juice|keeps|price|item|milk|pack|tcs|ph)%([[:blank:],]|$)@=" contained
syntax match recipelangFoodBlock "\v^\s+\zs%(nutrition)%([[:blank:],]|$)@=" contained

syntax region recipelangContainer matchgroup=recipelangKind start="\v^container%([[:blank:],]|$)@=" end="\v^%(//)@!\S@=" keepend contains=recipelangName,recipelangComment,@recipelangValue,recipelangContainerField
syntax match recipelangContainerField "\v^\s+\zs%(headspace|holds|price|fits)%([[:blank:],]|$)@=" contained

syntax region recipelangRecipe matchgroup=recipelangKind start="\v^recipe%([[:blank:],]|$)@=" end="\v^%(//)@!\S@=" keepend contains=recipelangName,recipelangComment,@recipelangValue,recipelangRecipeField,recipelangStep,recipelangRecipeTyped,recipelangIngredientLine,recipelangRecipeBlock
syntax match recipelangRecipeField "\v^\s+\zs%(grain-based\s+dessert|whole\s+grain-rich|batch\s+at\s+most|made\s+without|shared\s+fryer|each\s+weighs|serve\s+with|grains\s+by|to\s+taste|tray\s+for|credits|not\s+tcs|process|course|number|offers|tested|weighs|yields|keeps|loses|makes|pans|for|tcs|in)%([[:blank:],]|$)@=" contained
syntax match recipelangRecipeTyped "\v^\s+%(or\s+)?%(ccp\s+)?%(hold\s+without\s+temperature\s+control|work\s+at\s+room\s+temperature|microwave\s+to|chill\s+from|hold\s+cold|reheat\s+to|transport|chill\s+to|hold\s+hot|cook\s+at|cook\s+to|freeze|simmer|boil|rest|thaw)%([[:blank:],]|$)@=" contained contains=recipelangControlPoint
syntax match recipelangRecipeBlock "\v^\s+\zs%(ingredients|steps|leftovers)%([[:blank:],]|$)@=" contained

syntax region recipelangVariation matchgroup=recipelangKind start="\v^variation%([[:blank:],]|$)@=" end="\v^%(//)@!\S@=" keepend contains=recipelangName,recipelangComment,@recipelangValue,recipelangVariationField,recipelangStep,recipelangVariationTyped
syntax match recipelangVariationField "\v^\s+\zs%(instead\s+of\s+step|leave\s+out\s+step|after\s+step|leave\s+out|based\s+on|change|credit|add|use)%([[:blank:],]|$)@=" contained
syntax match recipelangVariationTyped "\v^\s+%(or\s+)?%(ccp\s+)?%(hold\s+without\s+temperature\s+control|work\s+at\s+room\s+temperature|microwave\s+to|chill\s+from|hold\s+cold|reheat\s+to|transport|chill\s+to|hold\s+hot|cook\s+at|cook\s+to|freeze|simmer|boil|rest|thaw)%([[:blank:],]|$)@=" contained contains=recipelangControlPoint

syntax region recipelangMenu matchgroup=recipelangKind start="\v^menu%([[:blank:],]|$)@=" end="\v^%(//)@!\S@=" keepend contains=recipelangName,recipelangComment,@recipelangValue,recipelangMenuField,recipelangServed,recipelangMenuBlock
syntax match recipelangMenuField "\v^\s+\zs%(vegetables\s+for\s+grains|offer\s+versus\s+serve|program|choose|starts|meals|serve|sell|site|end)%([[:blank:],]|$)@=" contained
syntax match recipelangMenuBlock "\v^\s+\zs%(every\s+day|monday|tuesday|wednesday|thursday|friday|saturday|sunday)%([[:blank:],]|$)@=" contained

syntax region recipelangCalendar matchgroup=recipelangKind start="\v^calendar%([[:blank:],]|$)@=" end="\v^%(//)@!\S@=" keepend contains=recipelangName,recipelangComment,@recipelangValue,recipelangCalendarField
syntax match recipelangCalendarField "\v^\s+\zs%(closed)%([[:blank:],]|$)@=" contained

highlight default link recipelangComment Comment
highlight default link recipelangAllow SpecialComment
highlight default link recipelangStray Error
highlight default link recipelangKind Statement
highlight default link recipelangName Title
highlight default link recipelangDash Delimiter
highlight default link recipelangBracket Delimiter
highlight default link recipelangReference Identifier
highlight default link recipelangShare Operator
highlight default link recipelangControlPoint Special
highlight default link recipelangIngredient Identifier
highlight default link recipelangServedName Identifier
highlight default link recipelangTaste Operator
highlight default link recipelangNoteWord Operator
highlight default link recipelangNutrient Identifier
highlight default link recipelangNumber Number
highlight default link recipelangDate Constant
highlight default link recipelangPercent Number
highlight default link recipelangUnit Type
highlight default link recipelangString String
highlight default link recipelangInside Operator
highlight default link recipelangFoodField Keyword
highlight default link recipelangFoodBlock Structure
highlight default link recipelangContainerField Keyword
highlight default link recipelangRecipeField Keyword
highlight default link recipelangRecipeBlock Structure
highlight default link recipelangRecipeTyped PreProc
highlight default link recipelangVariationField Keyword
highlight default link recipelangVariationTyped PreProc
highlight default link recipelangMenuField Keyword
highlight default link recipelangMenuBlock Structure
highlight default link recipelangCalendarField Keyword
