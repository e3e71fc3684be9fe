// A day as one says it: "12 March", with its year where it is not within the twelve months to come. Pure.

const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

// day, today: "2027-03-12"; today may be unknown.
export function dayWords(day, today) {
  const [year, month, date] = day.split("-").map(Number);
  const words = `${date} ${MONTHS[month - 1]}`;
  const next = today ? `${Number(today.slice(0, 4)) + 1}${today.slice(4)}` : "";
  return today && day >= today && day < next ? words : `${words} ${year}`;
}

// Of what somebody answers for: until when, where that is known.
export function waivedWord(until, today) {
  return until ? `waived until ${dayWords(until, today)}` : "waived";
}
