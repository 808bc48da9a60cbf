"""Names, values, texts, comments: what is read and reckoned before anything is wound."""
from generators.construct import bare, construct, layer, lines


@construct(1600)
def names(n):
    return bare(lines(n, lambda i: f"let name_{i} = {i + 1} mm"))


@construct(1600)
def names_that_rest_on_one_another(n):
    return bare(lines(n, lambda i: f"let step_{i} = step_{i - n // 40} + 1 mm" if i >= n // 40 else f"let step_{i} = 1 mm"))


@construct(1600)
def names_before_they_are_declared(n):
    return bare(lines(n, lambda i: f"let early_{i} = late_{i} + 1 mm") + lines(n, lambda i: f"let late_{i} = {i + 1} mm"))


@construct(40000)
def a_long_name(n):
    name = "long_name_" * (n // 10)
    return bare(f"let {name} = 3 turns\n" + f"let other = {name} + {name}\n")


@construct(240)
def long_names_with_one_beginning(n):
    beginning = "the_same_beginning_of_all_" * 20
    return bare(lines(n, lambda i: f"let {beginning}{i} = {i + 1} mm"))


@construct(1600)
def names_in_another_script(n):
    return bare(lines(n, lambda i: f"let катушка_{i} = {i + 1} mm"))


@construct(200)
def names_within_a_layer(n):
    return layer(lines(n, lambda i: f"let edge_{i} = {i % 9 + 3} turns") + lines(n // 4, lambda i: f"band edge_{i} of {('navy', 'mist')[i % 2]}"))


@construct(30)
def names_of_one_spelling_in_blocks(n):
    return layer(lines(n, lambda i: "repeat 1 { let edge = 8 turns  if yes { let edge = 9 turns  band edge of navy }  band edge of mist }"))


@construct(3200)
def comments(n):
    return bare(lines(n, lambda i: f"// line {i} of what is said about it, and some more words"))


@construct(1600)
def comments_of_declarations(n):
    return bare(lines(n, lambda i: f"/// What value {i} is for.\n/// And why.\nlet value_{i} = {i + 1} turns"))


@construct(80000)
def a_long_text(n):
    return bare(f'about {{ title: "{"long words " * (n // 11)}" }}\n')


@construct(800)
def texts(n):
    return bare(lines(n, lambda i: f'let text_{i} = "said about number {i} with \\"quotes\\" and a stroke \\\\"'))


@construct(1600)
def numbers(n):
    return bare(lines(n, lambda i: f"let number_{i} = {i} {i % 7 + 1}/{i % 9 + 8} in + {i}.{i:04} mm"))


@construct(2400)
def colours(n):
    return bare(lines(n, lambda i: f"let colour_{i} = #{i * 7919 % 0xffffff:06x}"))


@construct(4000)
def a_long_list(n):
    return bare("let all = [" + ", ".join(f"{i + 1} mm" for i in range(n)) + "]\nlet number = count(all)\nlet turned = reverse(all)\n")


@construct(400)
def lists(n):
    return bare(lines(n, lambda i: f"let list_{i} = [{', '.join(f'{i + k} turns' for k in range(1, 9))}]\nlet rest_{i} = first(rest(reverse(list_{i})))"))


@construct(400)
def expressions(n):
    return bare(lines(n, lambda i: f"let reckoned_{i} = ({i} + 3) * 2 mm + max(3 mm, {i} * 1 mm) / 2 - round({i} / 3) * 0.1 mm + width({i + 1} turns, navy)"))


@construct(450, most=900)
def a_long_expression(n):
    return bare(lines(8, lambda k: f"let sum_{k} = " + " + ".join(f"{i + 1} mm" for i in range(n))))


@construct(80)
def parentheses_within_one_another(n):
    return bare(lines(n, lambda i: f"let deep_{i} = " + "(" * 50 + "1 mm" + " + 1 mm)" * 50))


@construct(600)
def truths(n):
    return bare(lines(n, lambda i: f"let true_{i} = {i} < 7 and not {i} == 3 or {i} >= 9 and 3 mm <= {i} mm"))
